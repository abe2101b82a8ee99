import tseslint from 'typescript-eslint';

/** Functions whose last bits differ between engines: `src/base/elementary.ts` has our own. */
const unportable = [
  'sin',
  'cos',
  'tan',
  'asin',
  'acos',
  'atan',
  'atan2',
  'exp',
  'expm1',
  'log',
  'log1p',
  'log2',
  'log10',
  'pow',
  'cbrt',
  'sinh',
  'cosh',
  'tanh',
];

export default tseslint.config(
  { ignores: ['dist/**', 'out/**', 'coverage/**', 'node_modules/**', 'src/linalg/wasm/**', '**/*.d.ts', 'eslint.config.js', '**/*.mjs'] },
  ...tseslint.configs.recommendedTypeChecked,
  {
    languageOptions: { parserOptions: { project: ['./tsconfig.json'], tsconfigRootDir: import.meta.dirname } },
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/require-await': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      'no-restricted-exports': ['error', { restrictDefaultExports: { direct: true, named: true } }],
      'max-lines': 'off',
      eqeqeq: 'error',
    },
  },
  {
    files: ['src/**/*.ts'],
    rules: {
      'no-console': 'error',
      'no-restricted-globals': ['error', 'Date', 'window', 'document', 'process', 'setTimeout', 'performance', 'Buffer'],
      'no-restricted-properties': [
        'error',
        ...['random', ...unportable].map((property) => ({
          object: 'Math',
          property,
          message: 'Not the same bits everywhere: use src/base.',
        })),
      ],
      'no-restricted-syntax': [
        'error',
        { selector: 'TSEnumDeclaration', message: 'Use a union of string literals.' },
        { selector: "BinaryExpression[operator='**']", message: 'Not the same bits everywhere: multiply.' },
        { selector: 'Literal[raw="null"]', message: 'Absent is an optional field; null is not used.' },
      ],
    },
  },
  { files: ['src/base/elementary.ts', 'src/linalg/dense.ts'], rules: { 'no-restricted-properties': 'off', 'no-restricted-syntax': 'off' } },
  { files: ['*.config.ts'], rules: { 'no-restricted-exports': 'off' } },
);
