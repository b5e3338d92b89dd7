import type { Interpreter } from '../../grammar/interpreter.ts';
import { bundledEngine } from '../../speech/bundled/bundledEngine.ts';
import { OnDeviceRecognition } from '../../speech/bundled/OnDeviceRecognition.ts';
import type { Ear } from '../../speech/ear.ts';
import { RecognitionEar } from '../../speech/recognitionEar.ts';

/** The ear inside this app, with a given sound in place of the microphone. */
export function givenEar(track: MediaStreamTrack, interpreter: Interpreter): Ear {
  const engine = bundledEngine(OnDeviceRecognition, (expectation) =>
    interpreter.earGrammar(expectation),
  );
  return new RecognitionEar({
    ...engine,
    make() {
      const recognition = engine.make();
      const start = recognition.start.bind(recognition);
      recognition.start = () => {
        start(track);
      };
      return recognition;
    },
  });
}
