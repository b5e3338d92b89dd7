const found = import.meta.glob<string>('../../grammars/en-US/*.gram', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** What may be said, by file name: `volume.gram` and its neighbours. */
export const grammarFiles: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(found).map(([path, text]) => [path.slice(path.lastIndexOf('/') + 1), text]),
);
