const places = ['bedside', 'practice', 'review', 'sheet', 'handover', 'unit'] as const;

/** The rooms a person can go to. Each has an address of its own, so a link or a reload finds it. */
export type Place = (typeof places)[number];

export interface Route {
  readonly place: Place;
  /** What stands behind the place: `#/sheet/bed-4/2026-11-24` gives two parts. */
  readonly parts: readonly string[];
}

/** Read an address like `#/review`. What is not known leads to the bedside. */
export function routeOf(hash: string): Route {
  const [first = '', ...parts] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  const place = places.find((name) => name === first) ?? 'bedside';
  return { place, parts };
}

export function addressOf(place: Place, ...parts: string[]): string {
  return `#/${[place, ...parts.map(encodeURIComponent)].join('/')}`;
}

/** The address bar as reactive state. */
export class Router {
  current = $state.raw<Route>(routeOf(location.hash));

  /** Follow the address bar until the returned function is called. */
  follow(): () => void {
    const read = () => {
      this.current = routeOf(location.hash);
    };
    addEventListener('hashchange', read);
    return () => {
      removeEventListener('hashchange', read);
    };
  }
}
