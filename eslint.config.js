import importX from 'eslint-plugin-import-x'
import reactHooks from 'eslint-plugin-react-hooks'
import tseslint from 'typescript-eslint'

// Who may import whom. `from` is what the target must leave alone, less `except`.
const within = (...folders) => folders.map((folder) => `./${folder}/**/*`)
const feature = (...parts) => parts.map((part) => `./server/*/${part}.ts`)
const webMessage = 'web/ imports trade/, and types from server/*/*schema.ts.'

const zones = [
  {
    target: within('trade'),
    from: within('server', 'worker', 'web', 'prisma', 'scripts', 'tests'),
    message: 'trade/ imports trade/ and nothing else.',
  },
  {
    target: within('web'),
    from: within('worker', 'prisma', 'scripts', 'tests'),
    message: webMessage,
  },
  {
    target: within('web'),
    from: within('server'),
    except: ['**/server/*/*schema.ts'],
    message: webMessage,
  },
  {
    target: feature('schema'),
    from: [...feature('store', 'service'), './server/{ctx,db,app,queue,env}.ts', ...within('prisma')],
    message: 'A schema imports trade/, zod and other schemas.',
  },
  {
    target: [...feature('store'), ...within('server/gateways')],
    from: [...feature('service'), ...within('server/plugins')],
    message: 'A store or gateway imports trade/, ctx and errors.',
  },
  {
    target: feature('service'),
    from: within('server/plugins', 'prisma'),
    message:
      'A service imports trade/, its store, other services, ctx and errors; Prisma stays in the store.',
  },
  {
    target: feature('routes'),
    from: [...feature('store'), ...within('prisma')],
    message: 'Routes import their schema and service.',
  },
  {
    target: within('server', 'worker', 'prisma'),
    from: feature('routes'),
    message: 'Nobody imports routes; server/app.ts alone puts them together.',
  },
  {
    target: within('worker'),
    from: [...feature('store'), './server/{app,main}.ts', ...within('server/plugins')],
    message: 'worker/ imports services, ctx, env and queue.',
  },
  {
    target: within('server', 'prisma', 'worker'),
    from: within('web', 'scripts', 'tests'),
    message: 'What runs in production does not import web/, scripts/ or tests/.',
  },
  {
    target: within('server', 'prisma'),
    from: within('worker'),
    message: 'Nobody imports worker/.',
  },
]

const readsTheEnvironment = {
  selector: 'MemberExpression[object.name="process"][property.name="env"]',
  message: 'Only server/env.ts reads the environment; be handed an Env.',
}
const typesOnlyFromServer = {
  selector: 'ImportDeclaration[importKind!="type"][source.value=/\\u002Fserver\\u002F/]',
  message: 'web/ takes types only from server/: write `import type`.',
}
const packagesInTrade = {
  selector: ':matches(ImportDeclaration, ExportNamedDeclaration, ExportAllDeclaration)[source.value=/^[^.]/]',
  message: 'trade/ imports no package.',
}
const clockOrChance = [
  {
    selector: 'NewExpression[callee.name="Date"][arguments.length=0]',
    message: 'The clock arrives as an argument.',
  },
  {
    selector: 'CallExpression[callee.object.name="Date"][callee.property.name="now"]',
    message: 'The clock arrives as an argument.',
  },
  {
    selector: 'MemberExpression[object.name="Math"][property.name="random"]',
    message: 'Chance arrives as an argument.',
  },
]

export default tseslint.config(
  { ignores: ['dist', 'prisma/generated', 'coverage', 'reports', 'artefacts', '.data', '.stryker-tmp'] },
  ...tseslint.configs.recommended,
  {
    files: ['**/*.{ts,tsx}'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    plugins: { 'import-x': importX },
    settings: { 'import-x/resolver': { node: { extensions: ['.ts', '.tsx', '.js', '.mjs'] } } },
    rules: {
      // The faults that types alone can show, and that tests seldom do: a promise that nobody waits for.
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-misused-promises': ['error', { checksVoidReturn: false }],
      '@typescript-eslint/await-thenable': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': [
        'error',
        { argsIgnorePattern: '^_', varsIgnorePattern: '^_', ignoreRestSiblings: true },
      ],
      'import-x/no-restricted-paths': ['error', { basePath: import.meta.dirname, zones }],
      'no-restricted-syntax': ['error', readsTheEnvironment],
      'no-console': 'error',
      eqeqeq: ['error', 'always', { null: 'ignore' }],
    },
  },
  { files: ['server/app.ts'], rules: { 'import-x/no-restricted-paths': 'off' } },
  {
    files: ['server/env.ts', 'scripts/**', 'tests/**', 'prisma/seed/**', '*.config.ts'],
    rules: { 'no-restricted-syntax': 'off', 'no-console': 'off' },
  },
  {
    files: ['server/*/{service,store}.ts', 'worker/jobs/**'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: ['fastify', 'fastify/*', '@fastify/*'],
              message: 'Only routes and plugins know Fastify.',
            },
          ],
        },
      ],
    },
  },
  {
    files: ['trade/**/*.ts'],
    rules: { 'no-restricted-syntax': ['error', readsTheEnvironment, packagesInTrade, ...clockOrChance] },
  },
  {
    files: ['web/**/*.{ts,tsx}'],
    plugins: { 'react-hooks': reactHooks },
    rules: {
      'no-restricted-syntax': ['error', readsTheEnvironment, typesOnlyFromServer],
      'react-hooks/rules-of-hooks': 'error',
      'react-hooks/exhaustive-deps': 'error',
    },
  },
  { files: ['web/vite.config.ts'], rules: { 'no-restricted-syntax': 'off' } },
)
