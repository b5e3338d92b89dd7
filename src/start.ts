import { mount, unmount } from 'svelte';
import { momentAt } from './app/clock.ts';
import { Desk } from './app/Desk.svelte.ts';
import { entryNotes } from './app/lock/entryNotes.ts';
import { IdleWatch } from './app/lock/IdleWatch.ts';
import type { Entered } from './app/lock/LockSession.svelte.ts';
import type { LockWork } from './app/lock/lockWork.ts';
import { Tabs } from './app/lock/Tabs.svelte.ts';
import { mayBeForgotten } from './app/lock/mayBeForgotten.ts';
import { UnitLock } from './app/lock/UnitLock.svelte.ts';
import { browserOffline } from './app/offline/browserOffline.ts';
import { ownInterpreter } from './app/ownInterpreter.ts';
import { speechFor } from './app/speech.ts';
import { allFactories, databaseNamed, openStores } from './app/storage.ts';
import { warmEar } from './app/warmEar.ts';
import { whenIdle } from './app/whenIdle.ts';
import App from './screens/App.svelte';
import { BrowserLedger } from './storage/browserLedger.ts';
import { plainCipher, type Cipher } from './storage/cipher.ts';
import type { Database } from './storage/database.ts';
import { askToPersist } from './storage/persistence.ts';
import { StateStore } from './storage/stateStore.ts';
import type { WholeRecord } from './storage/vault/copyRecord.ts';
import { forgetOthers, LockShelf } from './storage/vault/lockShelf.ts';

const name = 'gloveside';
/** How often the idle time is looked at, ms. */
const lookEvery = 5_000;
const minute = 60_000;

/**
 * Open the record, behind its lock where it has one, make the desk and put the screens into the page.
 *
 * @param ready - called when there is something to show in the target
 */
export async function start(target: HTMLElement, ready: () => void): Promise<void> {
  let desk: Desk | null = null;
  const tabs = new Tabs(
    {
      // Only a page that is served securely has them.
      locks: 'locks' in navigator ? navigator.locks : undefined,
      channel: new BroadcastChannel(`${name} tabs`),
    },
    name,
  );
  await tabs.start(
    (writes) => {
      if (writes) void desk?.takeUp();
      else desk?.yield();
    },
    async () => desk?.handOver(),
  );
  tabs.hear((news) => {
    if (news === 'lock' && desk?.lock?.busy !== true) location.reload();
    if (news === 'settings' && desk?.following === true) void desk.open();
  });

  const base = databaseNamed(name);
  const shelf = new LockShelf(base);
  const entered = await enter(target, ready, shelf);
  if (tabs.writes) await clearUp(shelf, entered?.place ?? null);

  const rules = () => desk?.rules() ?? { ownReview: [] };
  const stores = await openStores(
    entered?.place ?? name,
    entered?.vault.cipher ?? plainCipher,
    rules,
    { lock: tabs.lock, channel: new BroadcastChannel(`${name} record`) },
  );
  const recordIn = (database: Database, cipher: Cipher): WholeRecord => ({
    ledger: new BrowserLedger(database, cipher, rules),
    states: new StateStore(database, cipher),
  });
  let work: LockWork | null = null;
  const lock = new UnitLock({
    kind: entered?.kind ?? 'none',
    vault: entered?.vault ?? null,
    states: stores.states,
    ledger: stores.ledger,
    now: Date.now,
    work: async () => {
      const { LockWork } = await import('./app/lock/lockWork.ts');
      return (work ??= new LockWork({
        shelf,
        plain: () => recordIn(base, plainCipher),
        sealed: (place, cipher) => recordIn(databaseNamed(place), cipher),
        clock: () => performance.now(),
      }));
    },
    persist: () => askToPersist('storage' in navigator ? navigator.storage : undefined),
    busy: () =>
      desk?.gloved === true ||
      stores.recorder.state.unsaved.some((event) => !mayBeForgotten(event, tabs.writes)),
    walking: () => desk?.walking === true,
    leave: async (why) => {
      if (why === 'locked' && tabs.writes) {
        await desk?.write(desk.author, [{ type: 'lock.noted', what: 'locked' }]);
      }
      tabs.tell('lock');
      // Keys and record are in this page's memory only: they go with it.
      location.reload();
    },
  });
  const signedIn = entered?.kind === 'pins' ? entered.vault.by : null;
  const idle = lock.kind === 'none' ? null : watchIdle(lock, () => desk?.gloved === true);
  desk = new Desk(stores, speechTouching(idle), { lock, tabs, signedIn });
  await desk.open();
  await lock.open();
  if (entered !== null && tabs.writes) void note(desk, entered);
  if (lock.recovered) location.hash = '#/unit';

  const opened = desk;
  const offline = browserOffline(() => opened.walking);
  if (entered === null) ready();
  mount(App, { target, props: { desk, offline } });
  const loaded = warmEar();
  void offline.start(loaded);
  // After the ear, whose word that it is ready must not wait for this page.
  void loaded.then(() => {
    whenIdle(ownInterpreter);
  });
}

/** Ask who it is where a lock lies on this device; null where none does. */
async function enter(
  target: HTMLElement,
  ready: () => void,
  shelf: LockShelf,
): Promise<Entered | null> {
  const lock = await shelf.take();
  // Storage that can not be read is told by the desk, which goes on without it.
  if (!lock.ok || lock.value === undefined) return null;
  const [{ LockSession }, { default: LockScreen }] = await Promise.all([
    import('./app/lock/LockSession.svelte.ts'),
    import('./screens/lock/LockScreen.svelte'),
  ]);
  let enterWith: (entered: Entered) => void = () => undefined;
  const entering = new Promise<Entered>((resolve) => (enterWith = resolve));
  const session = new LockSession({ shelf, now: Date.now, entered: enterWith });
  await session.open();
  ready();
  const screen = mount(LockScreen, { target, props: { session } });
  const entered = await entering;
  await unmount(screen);
  return entered;
}

/** What an interrupted sealing or opening left behind goes. */
async function clearUp(shelf: LockShelf, place: string | null): Promise<void> {
  await shelf.tidy();
  for (const factory of await allFactories()) await forgetOthers(factory, place);
}

/** Into the record: who came in, and how often somebody did not. The count begins anew once it is kept. */
async function note(desk: Desk, entered: Entered): Promise<void> {
  const written = await desk.write(desk.author, entryNotes(entered, momentAt));
  if (written.ok) await entered.settle();
}

function watchIdle(lock: UnitLock, gloved: () => boolean): IdleWatch {
  const idle = new IdleWatch({
    now: Date.now,
    limit: () => lock.idle * minute,
    gloved,
    busy: () => lock.busy,
    lock: () => void lock.lockNow(),
  });
  for (const type of ['pointerdown', 'keydown', 'wheel']) {
    addEventListener(
      type,
      () => {
        idle.touch();
      },
      { capture: true, passive: true },
    );
  }
  const look = () => {
    idle.check();
  };
  document.addEventListener('visibilitychange', look);
  setInterval(look, lookEvery);
  return idle;
}

/** Whoever works by voice touches nothing for long: each sentence that is said to them is a sign. */
function speechTouching(idle: IdleWatch | null): typeof speechFor {
  return async (wish, interpreter) => {
    const speech = await speechFor(wish, interpreter);
    const { voice } = speech;
    const say: typeof voice.say = (text, signal) => {
      idle?.touch();
      return voice.say(text, signal);
    };
    return { ...speech, voice: { name: voice.name, say } };
  };
}
