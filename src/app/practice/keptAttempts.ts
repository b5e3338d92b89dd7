import * as v from 'valibot';
import { isMillilitres, millilitres, type Millilitres } from '../../measure/volume.ts';
import type { PracticeAttempt } from '../../procedures/practice.ts';

/** One attempt as it is kept: whose it was, and what came of it. */
export interface KeptAttempt {
  /** Initials of who was signed in. */
  readonly by: string;
  readonly attempt: PracticeAttempt;
}

/** What practice keeps on this device, under a key of its own. */
export interface KeptPractice {
  readonly v: 1;
  /** How far off a reading may be in the drill, mL. */
  readonly tolerance: Millilitres;
  readonly attempts: readonly KeptAttempt[];
}

/** Beyond this the oldest are dropped: some years of practice, and small enough to rewrite whole. */
const mostAttempts = 500;

export const noPractice: KeptPractice = { v: 1, tolerance: millilitres(25), attempts: [] };

const volume = v.custom<Millilitres>(isMillilitres, 'not whole mL');
const ids = v.array(v.string());
const count = v.pipe(v.number(), v.integer(), v.minValue(0));

const base = {
  id: v.string(),
  at: v.object({ ms: v.number(), offset: v.number() }),
};

const attempt = v.variant('kind', [
  v.object({ ...base, kind: v.literal('guided'), procedure: v.string(), steps: count }),
  v.object({
    ...base,
    kind: v.literal('recall'),
    procedure: v.string(),
    picked: count,
    result: v.object({
      right: ids,
      missed: ids,
      criticalMissed: ids,
      outOfOrder: v.array(v.object({ named: v.string(), due: v.string() })),
      criticalPassedOver: ids,
      complete: v.boolean(),
      clean: v.boolean(),
    }),
  }),
  v.object({
    ...base,
    kind: v.literal('drill'),
    container: v.string(),
    seed: count,
    tolerance: volume,
    readings: v.array(
      v.object({
        level: volume,
        said: volume,
        judgement: v.object({
          off: v.number(),
          within: v.boolean(),
          line: volume,
          exact: v.boolean(),
          onLine: v.boolean(),
          gap: v.nullable(v.object({ below: volume, above: volume })),
        }),
      }),
    ),
  }),
]);

const practiceSchema = v.object({
  v: v.literal(1),
  tolerance: volume,
  attempts: v.array(v.object({ by: v.string(), attempt })),
});

/** What was kept, checked; an older or a broken value is as good as none. */
export function practiceOf(value: unknown): KeptPractice {
  const parsed = v.safeParse(practiceSchema, value);
  return parsed.success ? parsed.output : noPractice;
}

/** The same attempt twice is kept once. */
export function withAttempt(practice: KeptPractice, kept: KeptAttempt): KeptPractice {
  const others = practice.attempts.filter(({ attempt: { id } }) => id !== kept.attempt.id);
  return { ...practice, attempts: [...others, kept].slice(-mostAttempts) };
}
