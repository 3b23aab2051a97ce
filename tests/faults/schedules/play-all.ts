import { writeFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { openOffices } from './schedules/office.ts'
import { play } from './schedules/run.ts'
import { schedules } from './schedules/schedule.ts'

// Random schedules against the real field app and the real server; what they are made of: schedules/schedule.ts.
// `npm run schedules -- --count 10000 --seed 7` plays more of them, or the same ones again.

const count = Number(process.env['SCHEDULES'] ?? 500)
const seed = Number(process.env['SCHEDULES_SEED'] ?? Math.floor(Math.random() * 0x7fffffff))

/** While one waits for the database, the others go on. The same seed plays the same schedules whatever their number. */
const LANES = 3

const offices = await openOffices(LANES)

test(
  `${count} schedules, seed ${seed}: nothing lost, nothing done twice, and all show the same`,
  async () => {
    const found = { lost: 0, doubled: 0 }
    const sampled = fc.sample(schedules, { numRuns: count, seed })
    let next = 0
    let failing: number | null = null
    const playOn = async (lane: number) => {
      while (next < count && failing === null) {
        const index = next++
        const verdict = await play(offices[lane]!, sampled[index]!)
        if (Object.values(verdict).flat().length > 0) failing ??= index
      }
    }
    await Promise.all(offices.map((_, lane) => playOn(lane)))
    const shrunk = failing === null ? null : await shrink(failing, found)
    const file = process.env['SCHEDULES_RESULT']
    if (file) writeFileSync(file, JSON.stringify({ name: 'schedules', count: next, ...found, seed }))
    if (shrunk) expect.fail(shrunk)
  },
  Math.max(120_000, count * 3000),
)

/** Plays the failing one again until nothing can be left out of it. */
async function shrink(index: number, found: { lost: number; doubled: number }): Promise<string> {
  const result = await fc.check(
    fc.asyncProperty(schedules, async (schedule) => {
      const verdict = await play(offices[0]!, schedule)
      if (Object.values(verdict).flat().length === 0) return
      Object.assign(found, { lost: verdict.lost.length, doubled: verdict.doubled.length })
      throw new Error(JSON.stringify(verdict, null, 2))
    }),
    { seed, numRuns: index + 1, path: `${index}`, interruptAfterTimeLimit: 60_000 },
  )
  const said = result.errorInstance instanceof Error ? result.errorInstance.message : 'it does not fail again'
  return `schedule ${index} of seed ${seed}, shrunk ${result.numShrinks} times:\n${JSON.stringify(result.counterexample?.[0])}\n${said}`
}
