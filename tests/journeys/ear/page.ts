import { OnDeviceRecognition } from '../../../src/speech/bundled/OnDeviceRecognition.ts';
import type { RecognitionResultEvent } from '../../../src/speech/recognition.ts';

/** One session as it went: events in their order and what was heard. */
export interface Session {
  readonly events: string[];
  readonly transcripts: string[];
}

/** Listen once with this grammar. Resolves at `end`. */
function listen(jsgf: string): Promise<Session> {
  const session: Session = { events: [], transcripts: [] };
  const recognition = new OnDeviceRecognition();
  recognition.grammars.addFromString(jsgf);
  recognition.maxAlternatives = 3;
  for (const type of [
    'start',
    'audiostart',
    'soundstart',
    'speechstart',
    'speechend',
    'soundend',
    'audioend',
    'result',
    'nomatch',
    'error',
    'end',
  ]) {
    recognition.addEventListener(type, (event) => {
      const detail = type === 'error' ? (event as Event & { message: string }).message : '';
      session.events.push(detail === '' ? type : `${type}: ${detail}`);
    });
  }
  recognition.onresult = (event) => {
    const { results, resultIndex } = event as RecognitionResultEvent;
    const result = results.item(resultIndex);
    for (let index = 0; index < result.length; index += 1) {
      session.transcripts.push(result.item(index).transcript);
    }
  };
  return new Promise((resolve) => {
    recognition.onend = () => {
      resolve(session);
    };
    recognition.start();
  });
}

const available = (): Promise<string> => OnDeviceRecognition.available({ langs: ['en-US'] });
const install = (): Promise<boolean> => OnDeviceRecognition.install({ langs: ['en-US'] });

declare global {
  interface Window {
    ear: { listen: typeof listen; available: typeof available; install: typeof install };
  }
}
window.ear = { listen, available, install };
