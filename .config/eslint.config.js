import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import { resolve } from 'node:path';
import ts from 'typescript-eslint';

const root = resolve(import.meta.dirname, '..');

const barrels = ['ExportAllDeclaration', 'ExportNamedDeclaration[source]'].map((selector) => ({
  selector,
  message: 'No barrels: import the file that defines it.',
}));

export default ts.config(
  { ignores: ['dist/', 'node_modules/', 'reports/', '.stryker-tmp/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error', reportUnusedInlineConfigs: 'error' } },
  js.configs.recommended,
  ts.configs.strictTypeChecked,
  ts.configs.stylisticTypeChecked,
  svelte.configs.recommended,
  {
    languageOptions: {
      parserOptions: {
        projectService: true,
        tsconfigRootDir: root,
        extraFileExtensions: ['.svelte'],
      },
    },
    rules: {
      eqeqeq: 'error',
      'no-restricted-syntax': ['error', ...barrels],
      '@typescript-eslint/consistent-type-imports': [
        'error',
        { fixStyle: 'inline-type-imports', disallowTypeAnnotations: false },
      ],
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      // Numbers stand in nearly every sentence, and have one way to be written.
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      // `onclick={() => walk.next()}` says no more with braces.
      '@typescript-eslint/no-confusing-void-expression': [
        'error',
        { ignoreArrowShorthand: true, ignoreVoidReturningFunctions: true },
      ],
      // `fromPromise<void, Input>`: an effect that has nothing to tell but its end.
      '@typescript-eslint/no-invalid-void-type': 'off',
      // What we spread into letters is our own text, in letters that stand alone.
      '@typescript-eslint/no-misused-spread': ['error', { allow: ['string'] }],
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', caughtErrors: 'all' },
      ],
      '@typescript-eslint/array-type': ['error', { default: 'array' }],
      '@typescript-eslint/consistent-type-definitions': 'off',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
    rules: { 'svelte/no-at-html-tags': 'error' },
  },
  {
    files: ['src/**'],
    languageOptions: { globals: { ...globals.browser } },
    rules: { 'no-console': 'error' },
  },
  {
    // Floors 0 to 2 are told the time and given their ids.
    files: ['src/{words,measure,grammar,procedures,charting}/**'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-syntax': [
        'error',
        ...barrels,
        {
          selector: 'NewExpression[callee.name="Date"][arguments.length=0]',
          message: 'The time comes in as an argument.',
        },
        {
          selector: 'MemberExpression[object.name="Temporal"][property.name="Now"]',
          message: 'The time comes in as an argument.',
        },
      ],
      'no-restricted-globals': [
        'error',
        ...['window', 'document', 'navigator', 'localStorage', 'indexedDB', 'fetch', 'crypto'],
        ...['performance', 'setTimeout', 'setInterval', 'queueMicrotask', 'requestAnimationFrame'],
      ],
      'no-restricted-properties': [
        'error',
        { object: 'Date', property: 'now', message: 'The time comes in as an argument.' },
        { object: 'Math', property: 'random', message: 'Chance comes in as an argument.' },
      ],
    },
  },
  {
    files: ['src/speech/bundled/worker/**'],
    languageOptions: { globals: { ...globals.worker, ...globals.audioWorklet } },
  },
  {
    files: ['tests/**', 'demo/**', '*.ts', '.config/**', '**/*.test.ts'],
    languageOptions: { globals: { ...globals.node, ...globals.browser } },
    rules: { 'no-console': 'off' },
  },
  {
    // The matcher walks dense tables whose indices are its own, a hundred thousand utterances a
    // second: it says that a cell is there, and its flags change inside callbacks that types miss.
    files: ['src/grammar/**'],
    rules: {
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/non-nullable-type-assertion-style': 'off',
      '@typescript-eslint/no-unnecessary-condition': 'off',
      '@typescript-eslint/no-unnecessary-type-assertion': 'off',
      '@typescript-eslint/restrict-plus-operands': 'off',
      '@typescript-eslint/restrict-template-expressions': 'off',
      '@typescript-eslint/no-base-to-string': 'off',
      '@typescript-eslint/prefer-nullish-coalescing': 'off',
    },
  },
  {
    files: ['**/*.test.ts', 'tests/**'],
    rules: {
      // A test may say that a value is there; if it is not, the test fails, which is its work.
      '@typescript-eslint/no-non-null-assertion': 'off',
      // A fake keeps the form of what it stands for, and has nothing to wait for.
      '@typescript-eslint/require-await': 'off',
      // `expect(object.method)` calls nothing.
      '@typescript-eslint/unbound-method': 'off',
    },
  },
  {
    files: ['.config/**/*.{js,cjs}'],
    extends: [ts.configs.disableTypeChecked],
    rules: { '@typescript-eslint/no-require-imports': 'off' },
  },
);
