import { defineConfig } from 'vitest/config'

// Mutation testing runs the tests of the rules alone, of one folder at a time: they need no services.
export default defineConfig({
  test: {
    environment: 'node',
    isolate: false,
    // Mutated code on a busy machine takes its time.
    testTimeout: 60_000,
    setupFiles: ['tests/setup/mutation-runs.ts'],
    include: (process.env.MUTATION_TESTS ?? 'tests/trade/**/*.test.ts').split(','),
  },
})
