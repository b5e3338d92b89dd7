import type { Command, Expectation } from './expectation.ts';
import { EarGrammars, type EarGrammar } from './earGrammar.ts';
import type { Value } from './match/compileTag.ts';
import { filesWithServings } from './ownServings.ts';
import { Reader } from './Reader.ts';
import { withKeyWords } from './recallEar.ts';
import { VolumeReader, type VolumeContext } from './readVolume.ts';
import { routes, type Route } from './routes.ts';
import type { VolumeReading } from './volumeReading.ts';

/** What a whole utterance means in one state. Open to further kinds: see {@link routes}. */
export type Understood =
  | { readonly kind: 'command'; readonly command: Command }
  /** A volume, or a doubtful one: then `reading.mL` is null and `reading.ambiguous` is not empty. */
  | { readonly kind: 'volume'; readonly reading: VolumeReading }
  | {
      readonly kind: 'weight' | 'item' | 'look' | 'initials' | 'choice' | 'alert' | 'otherwise';
      readonly value: Value;
    }
  /** Not for us. `reading` is there where a volume was expected, with the reason. */
  | { readonly kind: 'talk'; readonly reason: string; readonly reading?: VolumeReading };

export interface Interpreter {
  /** What is said, taken as a volume. */
  volume(said: string, context: VolumeContext): VolumeReading;
  /** The command that the whole utterance is in this state, or null. */
  command(said: string, expectation: Expectation): Command | null;
  understand(said: string, expectation: Expectation): Understood;
  /** What an on-device ear listens for in this state. */
  earGrammar(expectation: Expectation): EarGrammar;
}

/**
 * Make an interpreter of one locale's grammar files.
 *
 * @param files - text by file name, `commands.gram` and so on
 * @throws {GrammarError} where a file is malformed
 */
export function createInterpreter(files: Readonly<Record<string, string>>): Interpreter {
  const common = benchOf(files);
  const volumes = new VolumeReader(common.reader);
  const trays = new Map<string, Bench>();
  /** What reads an utterance in this state: at a tray, with the unit's own names. */
  const benchFor = (expectation: Expectation): Bench => {
    if (!('servings' in expectation)) return common;
    const { servings, state } = expectation;
    const key = servings.map(({ id, label }) => `${id} ${label}`).join('\n');
    let bench = trays.get(key);
    if (bench === undefined) {
      const rules = routes[state].map(({ rule }) => rule);
      const own = filesWithServings(files, servings, rules);
      trays.set(key, (bench = own === null ? common : benchOf(own)));
    }
    return bench;
  };
  const loaded = (expectation: Expectation) =>
    routes[expectation.state].filter((route) => common.reader.has(route.rule));

  const valueOf = (said: string, route: Route, { reader }: Bench): Value => {
    const heard = reader.words(said);
    if (typeof heard === 'string' || heard.ids.includes(0)) return undefined;
    const values = reader.read(route.rule, heard);
    return values === 'tangled' ? undefined : values[0];
  };

  const understand = (said: string, expectation: Expectation): Understood => {
    let refused: VolumeReading | undefined;
    const bench = benchFor(expectation);
    for (const route of loaded(expectation)) {
      if (route.kind === 'volume') {
        const reading = volumes.read(said, contextOf(expectation));
        if (reading.mL !== null || reading.ambiguous.length > 0 || reading.doubt)
          return { kind: 'volume', reading };
        refused = reading;
        continue;
      }
      const value = valueOf(said, route, bench);
      if (value === undefined) continue;
      return route.kind === 'command'
        ? { kind: 'command', command: value as Command }
        : { kind: route.kind, value };
    }
    return refused
      ? { kind: 'talk', reason: refused.refused ?? 'not_a_volume', reading: refused }
      : { kind: 'talk', reason: 'not_for_us' };
  };

  return {
    volume: (said, context) => volumes.read(said, context),
    command: (said, expectation) => {
      for (const route of loaded(expectation)) {
        if (route.kind !== 'command') continue;
        const value = valueOf(said, route, common);
        if (value !== undefined) return value as Command;
      }
      return null;
    },
    understand,
    earGrammar: (expectation) => {
      const grammar = benchFor(expectation).ears.of(expectation, loaded(expectation));
      return expectation.state === 'recall' ? withKeyWords(grammar, expectation.steps) : grammar;
    },
  };
}

/** A reader of some grammar files, with what an ear listens for by them. */
interface Bench {
  readonly reader: Reader;
  readonly ears: EarGrammars;
}

function benchOf(files: Readonly<Record<string, string>>): Bench {
  const reader = new Reader(files);
  return { reader, ears: new EarGrammars(reader) };
}

const contextOf = (expectation: Expectation): VolumeContext =>
  'ounceIn' in expectation
    ? { container: expectation.container, ounceIn: expectation.ounceIn }
    : {};
