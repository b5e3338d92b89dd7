import { addOwn, type OwnAdded } from '../../app/ownProcedures.ts';
import { defaultUnit } from '../../app/defaultUnit.ts';
import { checkUnit, readUnit, type UnitFault, type UnitRead } from '../../app/readUnit.ts';
import type { Unit } from '../../app/unit.ts';
import type { Result } from '../../storage/ledger.ts';
import { errors, type ErrorCode } from '../../words/errors.ts';
import { unit as words } from '../../words/en-US/unit.ts';

export interface DraftPorts {
  /** The settings in use. */
  readonly kept: () => Unit;
  readonly keep: (unit: Unit) => Promise<Result<void, ErrorCode>>;
}

/** Settings on their way: what is changed here is in use only once it was checked and kept. */
export class UnitDraft {
  unit = $state<Unit>(copyOf(defaultUnit));
  /** What became of the last wish to save. */
  said = $state.raw<{ readonly text: string; readonly trouble: boolean } | null>(null);
  /** A file asked for the remote engine, which a person has to agree to here. */
  remoteAsked = $state(false);
  readonly #ports: DraftPorts;
  #tried = $state(false);
  readonly #read = $derived(checkUnit(cleaned(this.unit)));
  /** Told once a save was refused, and gone as soon as each is mended. */
  readonly faults: readonly UnitFault[] = $derived(
    this.#tried && !this.#read.ok ? this.#read.faults : [],
  );

  constructor(ports: DraftPorts) {
    this.#ports = ports;
    this.unit = copyOf(ports.kept());
  }

  get changed(): boolean {
    return JSON.stringify(cleaned(this.unit)) !== JSON.stringify(this.#ports.kept());
  }

  wrong(path: string): true | undefined {
    return this.faults.some((fault) => fault.path === path) ? true : undefined;
  }

  faultsIn(...parts: readonly string[]): readonly UnitFault[] {
    return this.faults.filter(({ path }) =>
      parts.some((part) => path === part || path.startsWith(`${part}.`)),
    );
  }

  async save(): Promise<void> {
    const read = this.#read;
    this.#tried = true;
    if (!read.ok) {
      this.said = { text: words.save.broken(read.faults.length), trouble: true };
      return;
    }
    const kept = await this.#ports.keep(read.unit);
    if (!kept.ok) {
      const { title, todo } = errors[kept.fault];
      this.said = { text: words.save.notSaved(`${title}. ${todo}`), trouble: true };
      return;
    }
    this.#reset();
    this.said = { text: words.save.saved, trouble: false };
  }

  takeBack(): void {
    this.#reset();
    this.said = null;
  }

  /** Read a settings file into the draft; nothing is used before it is saved. */
  take(text: string): UnitRead {
    const read = readUnit(text);
    if (!read.ok) return read;
    const { ear } = this.#ports.kept();
    // Sound leaves the device only by a person's own word on this device.
    this.remoteAsked = read.unit.ear === 'remote' && ear !== 'remote';
    this.unit = copyOf(this.remoteAsked ? { ...read.unit, ear } : read.unit);
    this.said = null;
    return read;
  }

  addProcedure(text: string): OwnAdded {
    const added = addOwn(cleaned(this.unit).procedures, text);
    if (added.ok) this.unit.procedures = added.own;
    return added;
  }

  #reset(): void {
    this.unit = copyOf(this.#ports.kept());
    this.remoteAsked = false;
    this.#tried = false;
  }
}

function copyOf(unit: Unit): Unit {
  return JSON.parse(JSON.stringify(unit)) as Unit;
}

/** An emptied box means that there is none. */
function cleaned(unit: Unit): Unit {
  return JSON.parse(
    JSON.stringify(unit, (key, value: unknown) =>
      key === 'errorPercent' && value === null ? undefined : value,
    ),
  ) as Unit;
}
