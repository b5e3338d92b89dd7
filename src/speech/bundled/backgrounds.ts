/** The sounds of US English as the model names them. */
export const phones =
  'AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH'.split(
    ' ',
  );

/** The word that stands for one bare sound in the dictionary. */
export const phoneWord = (phone: string): string => `xx${phone.toLowerCase()}`;

/** Words that numbers are made of; an utterance with one of them is a reading, not a command. */
export const numberWords =
  'zero oh one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand'.split(
    ' ',
  );

const grammar = (name: string, body: string): string =>
  `#JSGF V1.0;\ngrammar ${name};\npublic <${name}> = ${body};\n`;

/** Any row of sounds at all: what the narrow grammar has to beat. */
export const anySound = grammar('anySound', `(${phones.map(phoneWord).join(' | ')})+`);

/** Any row of number words: what was said if it was a number that the container has no line for. */
export const anyNumber = grammar(
  'anyNumber',
  `(${[...numberWords, 'and', 'a', 'point'].join(' | ')})+ [milliliters | mils | m l | c c]`,
);
