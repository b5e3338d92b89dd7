import { fault, type Fault, type FaultCode } from '../fault.ts';
import type { Procedure } from '../schema.ts';

/** What is said aloud on a night shift is short. */
export const longestCall = 14;

const everywhere: readonly [FaultCode, RegExp][] = [
  // Acts that break the closed system or need a licence (facts 9.11, 9.12).
  [
    'forbidden_act',
    /\b(?:disconnect\w*|irrigat\w*|flush the (?:catheter|tube|line)|(?:un)?clamp\w*|specimens?|sampl\w+|inject\w*|aspirat\w*|deflat\w*|insert\w*|(?:remove|pull out|change) the catheter)\b/i,
  ],
  // "cc" is read as units, "ml" as m1 (facts 5.10, 5.11).
  ['unsafe_unit', /(?<![A-Za-z])(?:cc|ccs|ml|ML|Ml|mls)(?![A-Za-z])/],
  ['judging_word', /\b(?:normal\w*|abnormal\w*|healthy|infect\w*|diagnos\w*|kidney failure)\b/i],
  [
    'asks_name',
    /\b(?:(?:Mr|Mrs|Ms|Dr)\b\.?|(?:resident|patient|person)'s name|say (?:the|their) name)/,
  ],
];

const licensed =
  /\b(?:wound|nephrostomy|suprapubic|nasogastric|gastric|chest|biliary|surgical) ?(?:drain|tube|bag|catheter)?\b/i;

/** Calls are short, single, and ask for nothing that an aide may not do. */
export function wordingRules(procedure: Procedure): Fault[] {
  const faults: Fault[] = [];
  const sentences: [string, string][] = procedure.steps.flatMap((step, index) => [
    [`steps.${index}.call`, step.call],
    [`steps.${index}.why`, step.why],
  ]);
  procedure.variants.forEach((variant, at) =>
    variant.reword?.forEach((said, index) =>
      sentences.push(
        [`variants.${at}.reword.${index}.call`, said.call],
        [`variants.${at}.reword.${index}.why`, said.why],
      ),
    ),
  );
  for (const [path, text] of sentences) {
    for (const [code, pattern] of everywhere) {
      const found = pattern.exec(text);
      if (found !== null) faults.push(fault(code, path, found[0]));
    }
    if (!path.endsWith('.call')) continue;
    const words = text.split(/\s+/).length;
    if (words > longestCall) faults.push(fault('call_too_long', path, String(words)));
    if (/[.!?]\s+\S/.test(text)) faults.push(fault('call_many_sentences', path));
  }
  const drain = [procedure.title, ...procedure.spoken].map((text) => licensed.exec(text)?.[0]);
  const found = drain.find((word) => word !== undefined);
  if (found !== undefined && procedure.caution === undefined)
    faults.push(fault('licensed_uncautioned', 'title', found));
  return faults;
}
