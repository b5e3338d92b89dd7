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

const digits = 'one | two | three | four | five | six | seven | eight | nine';
const teens =
  'ten | eleven | twelve | thirteen | fourteen | fifteen | sixteen | seventeen | eighteen | nineteen';
const tens = 'twenty | thirty | forty | fifty | sixty | seventy | eighty | ninety';

/**
 * Any number up to 9,999 in the ways that people say one: what was said if the container has no line
 * for it. A mere row of number words would fill every pause with "a" and "oh".
 */
export const anyNumber = `#JSGF V1.0;
grammar anyNumber;
public <number> = (<each> [<each>] [<each>] [<each>] | <full> | <dropped>) [milliliters | mils | m l | c c];
<digit> = ${digits};
<each> = zero | oh | <digit>;
<two> = ${teens} | (${tens}) [<digit>];
<hundreds> = (a | <digit>) hundred [[and] (<digit> | <two>)];
<full> = <two> | <hundreds> | <digit> thousand [[and] (<digit> | <two> | <hundreds>)];
<dropped> = <digit> <two> | <two> hundred [[and] (<digit> | <two>)] | <digit> (oh | zero) <digit>;
`;

/** The words that are one digit each. */
export const digitWords: ReadonlySet<string> = new Set(
  'zero oh one two three four five six seven eight nine'.split(' '),
);
