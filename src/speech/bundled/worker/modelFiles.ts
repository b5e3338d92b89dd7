// The package shuts its model off by "exports", so the files are named by their path. Small ones
// must stay files: a `data:` address is refused by the page's content policy. The large ones are made
// of the packages' by `.config/earFiles.ts`, which sorts them for gzip.
import mdef from '../../../../node_modules/.gloveside/ear-1/mdef.bin?url&no-inline';
import means from '../../../../node_modules/.gloveside/ear-1/means.bin?url&no-inline';
import denoiser from '../../../../node_modules/.gloveside/ear-1/rnnoise.wasm?url&no-inline';
import variances from '../../../../node_modules/.gloveside/ear-1/variances.bin?url&no-inline';
import featureParameters from '../../../../node_modules/soundswallower/model/en-us/feat_params.json?url&no-inline';
import noiseWords from '../../../../node_modules/soundswallower/model/en-us/noisedict.txt?url&no-inline';
import sendump from '../../../../node_modules/soundswallower/model/en-us/sendump?url&no-inline';
import transitionMatrices from '../../../../node_modules/soundswallower/model/en-us/transition_matrices?url&no-inline';
import type { EarFiles } from '../engine.ts';
import words from '../words.dict?url&no-inline';

const absolute = (address: string): string => new URL(address, location.href).href;

/** The served files of the bundled ear, each under a hashed name. */
export const modelFiles = (): EarFiles => ({
  mdef: absolute(mdef),
  means: absolute(means),
  variances: absolute(variances),
  sendump: absolute(sendump),
  transitionMatrices: absolute(transitionMatrices),
  featureParameters: absolute(featureParameters),
  noiseWords: absolute(noiseWords),
  words: absolute(words),
  denoiser: absolute(denoiser),
});
