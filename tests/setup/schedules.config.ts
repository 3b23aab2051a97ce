import { availableParallelism } from 'node:os'
import { defineConfig } from 'vitest/config'
import { breakOnPurpose } from '../faults/schedules/breaks.ts'

const { SCHEDULES_BREAK: name } = process.env

// The schedules alone, with a fault in the product where one was asked for.
export default defineConfig({
  plugins: name ? [breakOnPurpose(name)] : [],
  test: {
    environment: 'node',
    // With a fault one after the other, in one process.
    include: name ? ['tests/faults/schedules.test.ts'] : ['tests/faults/schedules*.test.ts'],
    maxWorkers: availableParallelism(),
    globalSetup: 'tests/setup/services.ts',
    hookTimeout: 60_000,
  },
})
