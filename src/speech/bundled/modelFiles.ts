// The package shuts its model off by "exports", so the files are named by their path. Small ones
// must stay files: a `data:` address is refused by the page's content policy.
import featureParameters from '../../../node_modules/soundswallower/model/en-us/feat_params.json?url&no-inline';
import mdef from '../../../node_modules/soundswallower/model/en-us/mdef?url&no-inline';
import means from '../../../node_modules/soundswallower/model/en-us/means?url&no-inline';
import noiseWords from '../../../node_modules/soundswallower/model/en-us/noisedict.txt?url&no-inline';
import sendump from '../../../node_modules/soundswallower/model/en-us/sendump?url&no-inline';
import transitionMatrices from '../../../node_modules/soundswallower/model/en-us/transition_matrices?url&no-inline';
import variances from '../../../node_modules/soundswallower/model/en-us/variances?url&no-inline';
import type { ModelFiles } from './engine.ts';
import words from './words.dict?url&no-inline';

const absolute = (address: string): string => new URL(address, document.baseURI).href;

/** The served files of the bundled ear's model, each under a hashed name. */
export const modelFiles = (): ModelFiles => ({
  mdef: absolute(mdef),
  means: absolute(means),
  variances: absolute(variances),
  sendump: absolute(sendump),
  transitionMatrices: absolute(transitionMatrices),
  featureParameters: absolute(featureParameters),
  noiseWords: absolute(noiseWords),
  words: absolute(words),
});
