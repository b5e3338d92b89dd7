/** Chrome's voices fall silent after some 14 s: a piece stays well under that. */
const LONGEST = 160;

/** Cut a long text at the ends of its sentences; a short one stays whole. */
export function sentencesOf(text: string): string[] {
  const trimmed = text.trim();
  if (trimmed.length <= LONGEST) return trimmed === '' ? [] : [trimmed];
  const pieces: string[] = [];
  for (const sentence of trimmed.split(/(?<=[.?!:;])\s+/)) {
    const last = pieces.at(-1);
    if (last !== undefined && last.length + 1 + sentence.length <= LONGEST) {
      pieces[pieces.length - 1] = `${last} ${sentence}`;
    } else pieces.push(sentence);
  }
  return pieces;
}
