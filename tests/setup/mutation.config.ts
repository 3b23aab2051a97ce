import { defineConfig } from 'vitest/config'

// Mutation testing runs the tests of the rules alone: they need no services.
export default defineConfig({
  test: { environment: 'node', include: ['tests/trade/**/*.test.ts'] },
})
