import { expect, test } from 'vitest'
import { runFaults } from '../../scripts/faults/faults.ts'

// A small run of `npm run faults`; the seed names the moments, so that a failure can be repeated.
test('workers, queue, database and mail server die at random moments: nothing is missed, nothing is told twice', async () => {
  const seed = Date.now() % 1_000_000
  const verdict = await runFaults({ kills: 6, due: 60, seed, workers: 2 })
  expect({ seed, ...verdict }).toMatchObject({ seed, missed: 0, duplicates: 0 })
}, 240_000)
