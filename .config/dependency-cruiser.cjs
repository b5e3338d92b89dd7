/** The floors of the house, lowest first; a file imports from its own room or a lower floor. */
const floors = [
  ['words'],
  ['measure'],
  ['grammar', 'procedures', 'charting'],
  ['speech', 'storage', 'exchange'],
  ['conversation'],
  ['app'],
  ['screens'],
];

const test = '\\.test\\.ts$';
const room = (names) => `^src/(${names.join('|')})/`;

const upward = floors.slice(0, -1).map((rooms, floor) => ({
  name: `nothing-up-from-floor-${floor}`,
  comment: `${rooms.join(', ')}: import from the own room or from a lower floor only`,
  severity: 'error',
  from: { path: room(rooms) },
  to: { path: [room(floors.slice(floor + 1).flat()), '^src/[^/]+$'] },
}));

const sideways = floors
  .filter((rooms) => rooms.length > 1)
  .flatMap((rooms) =>
    rooms.map((own) => ({
      name: `${own}-knows-no-neighbour`,
      comment: 'rooms of one floor do not import each other',
      severity: 'error',
      from: { path: room([own]) },
      to: { path: room(rooms.filter((other) => other !== own)) },
    })),
  );

const pure = room(floors.slice(0, 3).flat());

/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    ...upward,
    ...sideways,
    {
      name: 'screens-open-no-other-house',
      comment: 'nothing but the page itself stands above the screens',
      severity: 'error',
      from: { path: room(['screens']) },
      to: { path: '^src/[^/]+$' },
    },
    {
      name: 'pure-floors',
      comment: 'floors 0 to 2 have no DOM, clock, storage or machine in them',
      severity: 'error',
      from: { path: pure, pathNot: test },
      to: {
        path: '(^|/)node_modules/(svelte|xstate|idb-keyval|@xstate|soundswallower|hash-wasm|@echogarden)/',
      },
    },
    {
      name: 'no-node-in-the-browser',
      comment: 'what runs in a browser has no Node',
      severity: 'error',
      from: { path: '^src/', pathNot: test },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'shipped-needs-a-dependency',
      comment: 'what is shipped is under "dependencies"',
      severity: 'error',
      from: { path: '^src/', pathNot: test },
      to: { dependencyTypes: ['npm-dev', 'npm-no-pkg', 'npm-unknown'], pathNot: '/@types/' },
    },
    {
      name: 'source-knows-no-tests',
      comment: 'only a test uses what tests are made with',
      severity: 'error',
      from: { path: '^src/', pathNot: test },
      to: { path: ['^tests/', test] },
    },
    {
      name: 'one-door-to-the-demo',
      comment: 'the invented wing is data that one room reads; nothing else can meet it',
      severity: 'error',
      from: { path: '^src/', pathNot: ['^src/app/demo/', test] },
      to: { path: '^demo/' },
    },
    {
      name: 'the-demo-is-data',
      comment: 'data takes nothing from the house but the form that it has',
      severity: 'error',
      from: { path: '^demo/' },
      to: { path: '^src/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'no-cycle',
      comment: 'a circle has no lowest floor',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'resolves',
      comment: 'an import that leads nowhere',
      severity: 'error',
      from: { path: '^src/' },
      // `fhir/r4` is types only: the package of that name in the tests hides @types/fhir.
      to: { couldNotResolve: true, pathNot: '[?]|^fhir/r4$' },
    },
  ],
  options: {
    doNotFollow: { path: ['node_modules', '^tests/'] },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.js', '.svelte', '.json'],
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'browser', 'import', 'types', 'default'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
