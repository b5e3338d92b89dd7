/** One file of the project, by its path from the top. */
export interface HouseFile {
  readonly path: string;
  readonly text: string;
}

/** What stands at the top beside dot files; everything else has a room. */
const TOP = new Set([
  'README.md',
  'DEVELOPERS.md',
  'LICENSE',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'vite.config.ts',
  'src',
  'grammars',
  'tests',
  'demo',
]);

const LONGEST = 400;
const LONG = 250;
const LONG_SHARE = 0.05;

/** Everything that breaks a rule of the house, one line each; `path:line` first where there is one. */
export function houseFaults(files: readonly HouseFile[]): string[] {
  return [
    ...topFaults(files),
    ...files.flatMap((file) => [
      ...lineFaults(file),
      ...lengthFaults(file),
      ...barrelFaults(file),
      ...grammarFaults(file, files),
    ]),
    ...shareFaults(files),
  ];
}

function topFaults(files: readonly HouseFile[]): string[] {
  const top = new Set(files.map(({ path }) => path.split('/')[0] ?? path));
  return [...top]
    .filter((name) => !name.startsWith('.') && !TOP.has(name))
    .map((name) => `${name}: nothing else stands at the top`);
}

interface LineRule {
  readonly where: RegExp;
  readonly pattern: RegExp;
  readonly fault: string;
}

const code = /^(src|tests|demo)\/.*\.(ts|svelte)$/;
const read =
  /^(src\/(words|screens|exchange|procedures)\/|demo\/(?!.*\.(png|pdf)$)|README\.md|DEVELOPERS\.md)/;

const LINE_RULES: readonly LineRule[] = [
  {
    where: read,
    pattern: /((?<![#a-z][\da-f]*)\d|\})\s?cc(['’]?s)?\b/i,
    fault: '"cc" may be heard, never written by us: mL',
  },
  {
    where: read,
    pattern: /\d\s?(ml|ML|Ml|mls)\b/,
    fault: 'the unit is written mL',
  },
  {
    where: code,
    pattern: /\b(it|test|describe)\.(skip|todo|only|fails|skipIf|runIf)\b|expect\(true\)/,
    fault: 'a test that is left out or asserts nothing',
  },
  {
    where: code,
    pattern: /@ts-(ignore|nocheck)|eslint-disable(?!.* -- )/,
    fault: 'a silenced check needs its reason after "--"',
  },
  {
    where: code,
    pattern: /\b(TODO|FIXME|XXX)\b/,
    fault: 'unfinished work does not stand in the code',
  },
  {
    where: /^(?!package-lock\.json)/,
    pattern: /(?<![\w.:/-])\/(home|Users|root|work)\/\w/,
    fault: 'a path of somebody’s machine',
  },
  {
    where: /^src\/.*\.(ts|svelte)$/,
    pattern: /\bMediaRecorder\b|\beval\(|\bnew Function\(/,
    fault: 'sound is never recorded and no text is run as code',
  },
];

/** These two name what they forbid. */
const OWN = /^tests\/instruments\/houseRules(\.test)?\.ts$/;

function lineFaults({ path, text }: HouseFile): string[] {
  if (OWN.test(path)) return [];
  const rules = LINE_RULES.filter(({ where }) => where.test(path));
  return text
    .split('\n')
    .flatMap((line, index) =>
      rules
        .filter(({ pattern }) => pattern.test(line))
        .map(({ fault }) => `${path}:${index + 1}: ${fault}`),
    );
}

const lines = (text: string): number => text.split('\n').length - (text.endsWith('\n') ? 1 : 0);

function lengthFaults({ path, text }: HouseFile): string[] {
  if (!code.test(path) || lines(text) <= LONGEST) return [];
  const reason = /^(<!--|\/\*\*?|\/\/)[\s\S]{0,600}?\b(long|lines)\b/i.test(text);
  return reason ? [] : [`${path}: over ${LONGEST} lines without a sentence at the top saying why`];
}

function shareFaults(files: readonly HouseFile[]): string[] {
  const sizes = files.filter(({ path }) => code.test(path)).map(({ text }) => lines(text));
  const long = sizes.filter((size) => size > LONG).length;
  if (long <= sizes.length * LONG_SHARE) return [];
  return [`${long} of ${sizes.length} files have over ${LONG} lines; 1 in 20 may`];
}

function barrelFaults({ path }: HouseFile): string[] {
  return /^src\/.*\/index\.ts$/.test(path)
    ? [`${path}: a file bears the name of what it exports`]
    : [];
}

function grammarFaults({ path }: HouseFile, files: readonly HouseFile[]): string[] {
  const stem = /^(grammars\/.+)\.gram$/.exec(path)?.[1];
  if (stem === undefined) return [];
  const sentences = `${stem}.sentences.yaml`;
  return files.some((file) => file.path === sentences) ? [] : [`${path}: there is no ${sentences}`];
}
