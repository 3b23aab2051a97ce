import { writeFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Verdict } from './compare.ts'
import { openOffices } from './office.ts'
import { play } from './run.ts'
import { schedules } from './schedule.ts'

// Random schedules against the real field app and the real server; what they are made of: schedule.ts.
// `npm run schedules -- --count 10000 --seed 7` plays more of them, or the same ones again.

const { SCHEDULES, SCHEDULES_SEED, SCHEDULES_RESULT, SCHEDULES_BREAK } = process.env
const count = Number(SCHEDULES ?? 500)
/** Two halves of one run may draw from two seeds, unless one is given: each names its own. */
const seed = Number(SCHEDULES_SEED ?? Math.floor(Math.random() * 0x7fffffff))

/** While one waits for the database, the others go on. The same seed plays the same schedules whatever their number. */
const LANES = 3
/** A schedule that is not over by then goes round in circles. On a machine that does much else, each takes its time. */
const PATIENCE_MS = SCHEDULES_BREAK ? 60_000 : 600_000

interface Found {
  lost: number
  doubled: number
  /** In words, what was found first. */
  says?: string
}
const countsOf = ({ lost, doubled }: Verdict) => ({ lost: lost.length, doubled: doubled.length })
const faultsOf = (verdict: Verdict) => Object.values(verdict).flat() as string[]

const say = (line: string) => void (SCHEDULES_RESULT && !SCHEDULES_BREAK && process.stderr.write(`${line}\n`))

/** Plays every second schedule, beginning with this one: each half has a process, and so a core, of its own. */
export async function playHalf(first: 0 | 1): Promise<void> {
  // A fault was put into the product (breaks.ts): one after the other, until one finds it.
  const step = SCHEDULES_BREAK ? 1 : 2
  const offices = await openOffices(SCHEDULES_BREAK ? 1 : LANES)
  const name = `schedules ${first + 1}, ${first + 1 + step} … of ${count}, seed ${seed}`
  test(
    `${name}: nothing lost, nothing done twice, and all show the same`,
    async () => {
      const found: Found = { lost: 0, doubled: 0 }
      const sampled = fc.sample(schedules, { numRuns: count, seed })
      let next: number = first
      let played = 0
      let failing: number | null = null
      const playOn = async (lane: number) => {
        while (next < count && failing === null) {
          const index = next
          next += step
          const verdict = await play(offices[lane]!, sampled[index]!, PATIENCE_MS)
          played++
          if (played % 250 === 0) say(`${played} played of this half`)
          if (faultsOf(verdict).length === 0) continue
          failing ??= index
          Object.assign(found, countsOf(verdict), { says: faultsOf(verdict)[0] })
        }
      }
      await Promise.all(offices.map((_, lane) => playOn(lane)))
      if (SCHEDULES_RESULT)
        writeFileSync(`${SCHEDULES_RESULT}.${first}`, JSON.stringify({ count: played, ...found }))
      if (failing === null || SCHEDULES_BREAK) return
      expect.fail(`schedule ${failing} of seed ${seed}, ${await shrunk(offices[0]!, failing)}`)
    },
    Math.max(120_000, count * 3000),
  )
}

/** Plays the failing one again until nothing can be left out of it. */
async function shrunk(office: Parameters<typeof play>[0], index: number): Promise<string> {
  const result = await fc.check(
    fc.asyncProperty(schedules, async (schedule) => {
      const verdict = await play(office, schedule, PATIENCE_MS)
      if (faultsOf(verdict).length > 0) throw new Error(JSON.stringify(verdict, null, 2))
    }),
    { seed, numRuns: index + 1, path: `${index}`, interruptAfterTimeLimit: 60_000 },
  )
  const said = result.errorInstance instanceof Error ? result.errorInstance.message : 'it does not fail again'
  return `shrunk ${result.numShrinks} times:\n${JSON.stringify(result.counterexample?.[0])}\n${said}`
}
