import createSoundSwallower from 'soundswallower';
import type { Interpreter } from '../../../src/grammar/interpreter.ts';
import { Search } from '../../../src/speech/bundled/engine.ts';
import { modelPaths } from '../../support/nodeRecogniser.ts';
import type { Heard } from './Listener.ts';

/** Any number as people say it: in full, the hundred dropped, digit by digit. */
const general = `#JSGF V1.0;
grammar general;
public <number> = (<full> | <dropped> | <digit> <each> [<each>] [<each>]) [milliliters | mils];
<digit> = one | two | three | four | five | six | seven | eight | nine;
<each> = zero | oh | <digit>;
<teen> = ten | eleven | twelve | thirteen | fourteen | fifteen | sixteen | seventeen | eighteen | nineteen;
<tens> = twenty | thirty | forty | fifty | sixty | seventy | eighty | ninety;
<two> = <teen> | <tens> [<digit>];
<hundreds> = (a | <digit>) hundred [[and] (<digit> | <two>)];
<full> = zero | <digit> | <two> | <hundreds> | <digit> thousand [[and] (<digit> | <two> | <hundreds>)];
<dropped> = <digit> <two> | <two> hundred;
`;

/** The engine as it comes, with one grammar for all numbers: what the ear is measured against. */
export class PlainEar {
  readonly #search: Search;
  readonly #interpreter: Interpreter;

  private constructor(search: Search, interpreter: Interpreter) {
    this.#search = search;
    this.#interpreter = interpreter;
  }

  static async open(interpreter: Interpreter): Promise<PlainEar> {
    const asItComes = {
      compallsen: false,
      lw: 6.5,
      wip: 0.65,
      silprob: 0.005,
      beam: 1e-48,
      pbeam: 1e-48,
      wbeam: 7e-29,
      cmninit: '40,3,-1',
    };
    const module = await createSoundSwallower();
    const search = await Search.open(module, modelPaths, asItComes, { remove_noise: 1 });
    search.setGrammar(general);
    return new PlainEar(search, interpreter);
  }

  /** Hear one recording, 16 kHz. It knows no doubt: what fits is taken. */
  hear(
    samples: Float32Array,
  ): Pick<Heard, 'outcome' | 'mL' | 'candidates' | 'soundAlike' | 'command' | 'ms'> {
    const before = performance.now();
    this.#search.start();
    this.#search.feedWhole(samples);
    const { text } = this.#search.finish();
    const { mL } = this.#interpreter.volume(text, {});
    return {
      outcome: text === '' ? 'refused' : 'taken',
      mL,
      candidates: [],
      soundAlike: false,
      command: null,
      ms: performance.now() - before,
    };
  }
}
