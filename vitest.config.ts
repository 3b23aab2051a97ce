import { availableParallelism } from 'node:os'
import { defineConfig } from 'vitest/config'
import { LongestFirst } from './tests/setup/longest-first.ts'

const services = 'tests/setup/services.ts'
const ALONE = 'tests/faults/faults.test.ts'

// Each project may be run alone: npx vitest run tests/api/visits.test.ts starts what that file needs and no more.
export default defineConfig({
  test: {
    environment: 'node',
    // vitest leaves one core for a person who works meanwhile; a test run has nothing better to do.
    maxWorkers: availableParallelism(),
    sequence: { sequencer: LongestFirst },
    projects: [
      // The rules are pure: no services, and one process for all of them.
      {
        extends: true,
        test: { name: 'trade', include: ['tests/trade/**/*.test.ts'], isolate: false },
      },
      // What runs in the browser and does not need one, such as the outbox.
      {
        extends: true,
        test: { name: 'web', include: ['tests/web/**/*.test.{ts,tsx}'] },
      },
      {
        extends: true,
        test: {
          name: 'server',
          include: ['tests/{api,worker,build,faults,setup}/**/*.test.ts'],
          exclude: [ALONE],
          globalSetup: services,
          // What each file needs it makes for itself; to load the whole server anew for each took half of the time.
          isolate: false,
          testTimeout: 20_000,
          hookTimeout: 60_000,
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: [services, 'tests/setup/web-build.ts'],
          isolate: false,
          testTimeout: 180_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
      // Its clock runs twenty times as fast as the wall: work of others beside it would last minutes there.
      { extends: true, test: { name: 'alone', include: [ALONE], sequence: { groupOrder: 2 } } },
    ],
  },
})
