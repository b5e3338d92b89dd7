import { drillLevels, seeds } from '../../conversation/practice/drillLevels.ts';
import type { PracticePlan } from '../../conversation/practice/plan.ts';
import { practiceJudged } from '../../conversation/practice/practiceSaid.ts';
import type { Interpreter } from '../../grammar/interpreter.ts';
import type { Container } from '../../measure/vessel.ts';
import type { Procedure } from '../../procedures/schema.ts';
import type { StateStore } from '../../storage/stateStore.ts';
import { momentAt, now } from '../clock.ts';
import { procedureOfUnit } from '../procedures.ts';
import type { Speech } from '../speech.ts';
import type { Unit } from '../unit.ts';
import { PracticeBook } from './PracticeBook.svelte.ts';
import { PracticeSession } from './PracticeSession.svelte.ts';

/** What a trainee chose to do. */
export type PracticeChoice =
  | { readonly mode: 'guided' | 'recall'; readonly procedure: Procedure }
  | {
      readonly mode: 'drill';
      readonly container: Container;
      /** Of an earlier round, to see its levels again; null for new ones. */
      readonly seed: number | null;
    };

/** What practice is given of the desk: no recorder and no ledger is among it. */
export interface PracticeSurroundings {
  readonly states: Pick<StateStore, 'take' | 'put'>;
  readonly interpreter: Interpreter;
  unit(): Unit;
  /** Initials of who is signed in. */
  initials(): string;
  /** Ear and voice of this device. */
  speech(): Promise<Speech>;
}

/** The practice room: the round on its way, and the attempts before it. */
export class PracticeRoom {
  readonly book: PracticeBook;
  session = $state.raw<PracticeSession | null>(null);
  /** True from the tap until ear and voice are there. */
  opening = $state(false);
  readonly #around: PracticeSurroundings;
  #choice: PracticeChoice | null = null;

  constructor(around: PracticeSurroundings) {
    this.#around = around;
    this.book = new PracticeBook(around.states);
  }

  async begin(choice: PracticeChoice): Promise<void> {
    if (this.opening) return;
    this.#choice = choice;
    this.opening = true;
    try {
      const { ear, voice } = await this.#around.speech();
      this.session?.close();
      const by = this.#around.initials();
      const input = {
        id: crypto.randomUUID(),
        startedAt: now(),
        locale: 'en-US',
        plan: this.#planOf(choice),
      } as const;
      this.session = new PracticeSession(
        {
          ear,
          voice,
          judge: (hearing, expectation) =>
            practiceJudged(hearing, expectation, this.#around.interpreter, momentAt(hearing.at)),
          keep: (attempt) => this.book.keep({ by, attempt }),
        },
        input,
      );
    } finally {
      this.opening = false;
    }
  }

  /** The same once more; a drill with new levels. */
  async again(): Promise<void> {
    const choice = this.#choice;
    if (choice === null) return;
    await this.begin(choice.mode === 'drill' ? { ...choice, seed: null } : choice);
  }

  /** Away from the round: ear and voice stop. */
  leave(): void {
    this.session?.close();
    this.session = null;
  }

  #planOf(choice: PracticeChoice): PracticePlan {
    const unit = this.#around.unit();
    if (choice.mode !== 'drill') {
      return { mode: choice.mode, procedure: procedureOfUnit(choice.procedure, unit) };
    }
    const { container } = choice;
    const seed = choice.seed ?? freshSeed();
    return {
      mode: 'drill',
      container,
      seed,
      levels: drillLevels(container, seed),
      rounding: unit.rounding,
      tolerance: this.book.tolerance,
      ounceIn: unit.ounceIn,
    };
  }
}

function freshSeed(): number {
  const [value = 0] = crypto.getRandomValues(new Uint32Array(1));
  return value % seeds;
}
