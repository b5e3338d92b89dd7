import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import createSoundSwallower from 'soundswallower';
import { denoiserProgram } from '../../.config/earFiles.ts';
import { Denoiser } from '../../src/speech/bundled/denoiser.ts';
import type { ModelFiles } from '../../src/speech/bundled/engine.ts';
import { Recogniser, type RecogniserEvent } from '../../src/speech/bundled/recogniser.ts';

const model = join(
  dirname(createRequire(import.meta.url).resolve('soundswallower')),
  'model/en-us',
);

/** The files of the bundled ear's model on disk. */
export const modelPaths: ModelFiles = {
  mdef: join(model, 'mdef'),
  means: join(model, 'means'),
  variances: join(model, 'variances'),
  sendump: join(model, 'sendump'),
  transitionMatrices: join(model, 'transition_matrices'),
  featureParameters: join(model, 'feat_params.json'),
  noiseWords: join(model, 'noisedict.txt'),
  words: resolve(import.meta.dirname, '../../src/speech/bundled/words.dict'),
};

/** The bundled ear in Node: the code of the browser's worker, with its files from disk. */
export async function openNodeRecogniser(
  tell: (event: RecogniserEvent) => void,
): Promise<Recogniser> {
  const module = await createSoundSwallower();
  const denoiser = await Denoiser.open(denoiserProgram());
  return Recogniser.open(module, modelPaths, denoiser, tell, () => performance.now());
}
