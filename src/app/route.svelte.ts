const places = [
  ...['bedside', 'practice', 'review', 'sheet', 'handover', 'unit'],
  // Not among the ways at the top: a button leads there.
  ...['sound', 'demo'],
] as const;

/** The rooms a person can go to. Each has an address of its own, so a link or a reload finds it. */
export type Place = (typeof places)[number];

export interface Route {
  readonly place: Place;
  /** What stands behind the place: `#/sheet/bed-4/2026-11-24` gives two parts. */
  readonly parts: readonly string[];
}

/** Read an address like `#/review`. What is not known leads to the bedside. */
export function routeOf(hash: string): Route {
  const [first = '', ...parts] = hash.replace(/^#\/?/, '').split('/').map(decoded);
  const place = places.find((name) => name === first) ?? 'bedside';
  return { place, parts };
}

/** What no `encodeURIComponent` wrote is taken as it stands; an address must not stop the page. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
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
