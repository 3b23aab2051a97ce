import type { Day } from '../../trade/dates.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'
import { OWN_CALENDAR } from '../follow-ups/simulation/calendar.ts'
import { addUp } from '../follow-ups/simulation/figures.ts'
import { type Promised, PROMISES } from '../follow-ups/simulation/promises.ts'
import { watchSimulation } from '../follow-ups/simulation/watch.ts'
import type { PreviewView } from './schema.ts'

/** Homes and years that the preview simulates; what adds up is scaled to the homes of the company. */
const SIMULATED = { homes: 120, years: 2, seed: 1 }
const MOMENTS_AT_A_TIME = 50

/** The coming years of a made-up company of as many homes, under the policy that holds and under the other. */
export async function simulateBoth(
  from: Day,
  homes: number,
  policies: { before: Policy; after: Policy },
): Promise<PreviewView['simulated']> {
  const scaled = (count: number) => Math.round((count / SIMULATED.homes) * homes)
  const [was, would] = [await simulated(from, policies.before), await simulated(from, policies.after)]
  const both = <Value>(read: (each: typeof was) => Value) => ({ before: read(was), after: read(would) })
  const months = [...new Set([...was.sent.keys(), ...would.sent.keys()])].sort()
  return {
    months: months.map((month) => ({ month, ...both(({ sent }) => scaled(sent.get(month) ?? 0)) })),
    busiestDay: both(({ busiest: [on, count] }) => ({ on, messages: scaled(count) })),
    householdIn7Days: both(({ figures }) => figures.householdMaximumIn7Days),
    householdInAYear: both(({ figures }) => figures.householdMaximumInAYear),
    promises: (Object.keys(PROMISES) as Promised[]).map((name) => ({
      promise: PROMISES[name],
      ...both(({ broken }) => broken[name]),
    })),
  }
}

async function simulated(from: Day, policy: Policy) {
  let moments = 0
  // A simulated moment takes some microseconds: others wait for a few milliseconds at most.
  const breathe = () =>
    ++moments % MOMENTS_AT_A_TIME === 0 ? new Promise<void>((resolve) => setImmediate(resolve)) : null
  const watched = await watchSimulation({ ...SIMULATED, from, policy, breathe, calendar: OWN_CALENDAR })
  const { months, figures, broken } = addUp([watched])
  const sent = new Map(months.map(([name, { offers, visits, safety }]) => [name, offers + visits + safety]))
  const none: [string, number] = [from, 0]
  const busiest = watched.days.reduce((most, day) => (day[1] > most[1] ? day : most), none)
  return { sent, busiest, figures, broken }
}
