/** Letters and what they most often sound like in US English; longer ones first. */
const spellings: readonly (readonly [string, string])[] = [
  ['tion', 'SH AH N'],
  ['eigh', 'EY'],
  ['igh', 'AY'],
  ['tch', 'CH'],
  ['sch', 'S K'],
  ['ch', 'CH'],
  ['sh', 'SH'],
  ['th', 'TH'],
  ['ph', 'F'],
  ['ng', 'NG'],
  ['ck', 'K'],
  ['qu', 'K W'],
  ['wh', 'W'],
  ['ee', 'IY'],
  ['ea', 'IY'],
  ['oo', 'UW'],
  ['ou', 'AW'],
  ['ow', 'OW'],
  ['ai', 'EY'],
  ['ay', 'EY'],
  ['oa', 'OW'],
  ['oi', 'OY'],
  ['oy', 'OY'],
  ['au', 'AO'],
  ['er', 'ER'],
  ['ir', 'ER'],
  ['ur', 'ER'],
  ['ar', 'AA R'],
  ['or', 'AO R'],
  ['a', 'AE'],
  ['b', 'B'],
  ['c', 'K'],
  ['d', 'D'],
  ['e', 'EH'],
  ['f', 'F'],
  ['g', 'G'],
  ['h', 'HH'],
  ['i', 'IH'],
  ['j', 'JH'],
  ['k', 'K'],
  ['l', 'L'],
  ['m', 'M'],
  ['n', 'N'],
  ['o', 'AA'],
  ['p', 'P'],
  ['q', 'K'],
  ['r', 'R'],
  ['s', 'S'],
  ['t', 'T'],
  ['u', 'AH'],
  ['v', 'V'],
  ['w', 'W'],
  ['x', 'K S'],
  ['y', 'IY'],
  ['z', 'Z'],
];

/**
 * Guess how a word sounds that no dictionary has: a unit's own name for a room or a product.
 *
 * One word without any sounds would cost the whole grammar; a guessed one is heard less well.
 */
export function guessSounds(word: string): string {
  const sounds: string[] = [];
  for (let at = 0; at < word.length;) {
    const rest = word.slice(at);
    // A mute e at the end, and the second of two letters alike, say nothing.
    const mute = (rest === 'e' && at > 1) || (at > 0 && word[at] === word[at - 1]);
    const spelling = mute ? undefined : spellings.find(([letters]) => rest.startsWith(letters));
    if (spelling !== undefined) sounds.push(spelling[1]);
    at += spelling?.[0].length ?? 1;
  }
  return sounds.length === 0 ? 'AH' : sounds.join(' ');
}
