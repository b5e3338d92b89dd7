import { File, OpenFile, PreopenDirectory, WASI } from '@bjorn3/browser_wasi_shim';
import { readWave, type Wave } from '../wave.ts';

/** The voices inside the package's build. */
export type FliteVoice = 'slt' | 'rms' | 'awb' | 'kal16' | 'kal';

/**
 * Say a text with flite, compiled to WASI. Each call is a fresh process of its own, so that nothing
 * carries over from one phrase to the next.
 *
 * @param stretch - 1 is the voice's own speed, 1.2 slower
 * @throws when the program ends with another code than 0
 */
export function flite(
  program: WebAssembly.Module,
  text: string,
  voice: FliteVoice,
  stretch = 1,
): Wave {
  const output = new File([]);
  const room = new PreopenDirectory('/', new Map([['said.wav', output]]));
  const args = ['flite', '-voice', voice, '--setf', `duration_stretch=${stretch}`];
  const wasi = new WASI(
    [...args, '-t', text, '-o', '/said.wav'],
    [],
    [new OpenFile(new File([])), new OpenFile(new File([])), new OpenFile(new File([])), room],
    { debug: false },
  );
  const instance = new WebAssembly.Instance(program, {
    wasi_snapshot_preview1: wasi.wasiImport,
  });
  const code = wasi.start(instance as Parameters<WASI['start']>[0]);
  if (code !== 0) throw new Error(`flite: ended with code ${code} at "${text}"`);
  const written = room.dir.contents.get('said.wav');
  if (!(written instanceof File)) {
    throw new Error(`flite: wrote no sound for "${text}"`);
  }
  return readWave(written.data, `flite: ${text}`);
}
