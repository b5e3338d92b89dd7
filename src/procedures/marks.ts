/**
 * What a step does, in the trade's terms. The checker reads the order of these marks, never the
 * sentences, so a unit may reword its calls freely.
 */
export const marks = [
  // hands and gloves
  'handHygiene',
  'glovesOn',
  'glovesOff',
  'handsWashed',
  // the person and the room
  'explain',
  'privacy',
  'bedHeight',
  'bedLow',
  'comfort',
  'callLight',
  // bag, pouch and tap
  'ownContainer',
  'barrier',
  'containerOnBarrier',
  'bagBelowBladder',
  'offFloor',
  'noKinks',
  'openTap',
  'tipTouchesNothing',
  'closeTap',
  'wipeTap',
  'tapInHolder',
  // fluid met in another way than through a tap
  'handleFluid',
  'transfer',
  // measuring
  'flatSurface',
  'eyeLevel',
  'reading',
  'look',
  'zeroScale',
  'weigh',
  'dryWeight',
  'notSoiled',
  'count',
  'served',
  'left',
  'intake',
  // afterwards
  'pour',
  'rinse',
  'disinfect',
  'dry',
  'putAway',
  'bin',
  'skinCare',
  'document',
  'tellNurse',
] as const;

export type Mark = (typeof marks)[number];
