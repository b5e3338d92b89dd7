import { fakeBundled } from '../../tests/support/fakeEngineHost.ts';
import { fakeEngine } from '../../tests/support/fakeRecognition.ts';
import { keepsTheEarContract } from '../../tests/support/earContract.ts';
import { browserEngine } from './browser/browserEngine.ts';
import { bundledEngine } from './bundled/bundledEngine.ts';
import { bundledRecognition } from './bundled/bundledRecognition.ts';
import { RecognitionEar } from './recognitionEar.ts';
import { TypedEar } from './typed/TypedEar.ts';

keepsTheEarContract('typed', () => {
  const ear = new TypedEar();
  return { ear, say: (phrase) => ear.type(phrase) };
});

for (const remote of [false, true]) {
  keepsTheEarContract(remote ? 'remote' : 'browser', () => {
    const { type, last } = fakeEngine();
    const grammar = {
      phrasesOf: () => [{ phrase: 'next', boost: 4 }],
      meaningOf: (transcript: string) => transcript,
    };
    const engine = browserEngine({ type, grammar, remote, makePhrase: undefined });
    return {
      ear: new RecognitionEar(engine),
      say: (phrase) => {
        last().hear([[phrase, 0.8]]);
      },
    };
  });
}

keepsTheEarContract('bundled', () => {
  const { engine, openMicrophone, tell } = fakeBundled();
  const type = bundledRecognition({ engine, openMicrophone });
  const grammarOf = () => ({ jsgf: '#JSGF V1.0; grammar g; public <g> = next;' });
  return {
    ear: new RecognitionEar(bundledEngine(type, grammarOf)),
    say: (phrase) => {
      tell({ type: 'speechstart' });
      tell({ type: 'speechend' });
      tell({
        type: 'heard',
        took: 5,
        text: phrase,
        alternatives: [{ transcript: phrase, confidence: 0.9 }],
      });
    },
  };
});
