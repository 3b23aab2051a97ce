// Started by scripts/mutation.mjs for one folder of trade/ at a time.
const part = process.env.MUTATION_PART ?? 'trade'
const only = process.env.MUTATION_MUTATE ?? 'trade/**/*.ts'

/** @type {import('@stryker-mutator/api/core').PartialStrykerOptions} */
export default {
  testRunner: 'vitest',
  vitest: { configFile: 'tests/setup/mutation.config.ts', related: false },
  // The checklist's areas are data; sentences are not rules.
  mutate: [...only.split(','), '!trade/checklist/areas/**'],
  mutator: { excludedMutations: ['StringLiteral'] },
  coverageAnalysis: 'perTest',
  ignoreStatic: true,
  // A busy machine is no endless loop.
  timeoutMS: 60_000,
  concurrency: Number(process.env.MUTATION_CONCURRENCY ?? 1),
  incremental: true,
  incrementalFile: `reports/mutation/${part}.incremental.json`,
  reporters: ['json', 'progress-append-only'],
  jsonReporter: { fileName: `reports/mutation/${part}.json` },
  ignorePatterns: [
    '**',
    '!package.json',
    '!tsconfig.json',
    '!trade/**',
    '!tests/trade/**',
    '!tests/build/**',
    '!tests/setup/mutation*.ts',
  ],
  tempDirName: `.stryker-tmp/${part}`,
  disableTypeChecks: false,
}
