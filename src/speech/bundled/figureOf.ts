const units =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const tens = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');

/** Words that carry no digit: two numbers that differ in these alone are one. */
const silent = new Set(
  'and a or so around about mils milliliters milliliter m l c cc ccs'.split(' '),
);

/** A number's words without what carries no digit. */
export const bareNumber = (text: string): string =>
  text
    .split(' ')
    .filter((word) => !silent.has(word))
    .map((word) => (word === 'oh' ? 'zero' : word))
    .join(' ');

type Piece = number | 'hundred' | 'thousand';

/** Draw what stands around each `name` together: `[3, hundred, 50]` to `[350]`. */
function drawn(pieces: readonly Piece[], name: Piece, size: number): Piece[] {
  const done: Piece[] = [];
  for (let at = 0; at < pieces.length; at += 1) {
    const piece = pieces[at];
    const before = done.at(-1);
    if (piece !== name) {
      if (piece !== undefined) done.push(piece);
      continue;
    }
    if (typeof before === 'number') done.pop();
    const after = pieces[at + 1];
    const rest = typeof after === 'number' && after < size ? after : 0;
    if (rest > 0) at += 1;
    done.push((typeof before === 'number' ? before : 1) * size + rest);
  }
  return done;
}

/**
 * A number's words in figures, so that two ways to say one number compare alike: "three fifty",
 * "three five zero" and "three hundred fifty" are all `350`. Words that are no number stay words.
 */
export function figureOf(text: string): string {
  const bare = bareNumber(text);
  const pieces: Piece[] = [];
  for (const word of bare.split(' ')) {
    const last = pieces.at(-1);
    const unit = units.indexOf(word);
    const ten = tens.indexOf(word);
    if (word === 'hundred' || word === 'thousand') pieces.push(word);
    else if (ten >= 0) pieces.push((ten + 2) * 10);
    else if (unit < 0) return bare;
    else if (typeof last === 'number' && last >= 20 && last % 10 === 0 && unit > 0 && unit < 10) {
      pieces.splice(-1, 1, last + unit);
    } else pieces.push(unit);
  }
  return drawn(drawn(pieces, 'hundred', 100), 'thousand', 1000).join('');
}
