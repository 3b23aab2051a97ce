import { addDays, addYears, type Day, yearOf } from '../../../trade/dates.ts'
import type { Policy } from '../../../trade/follow-ups/policy.ts'
import { dayInZone, instantAt } from '../../time.ts'
import { type Chance, chanceOf } from './chance.ts'
import { type Company, makeCompany, type MadeUpHome, type Person } from './company.ts'
import { liveOn } from './life.ts'
import { planHome } from './plan-home.ts'
import { type Heard, nextLook, tellPerson, type Told } from './tell-person.ts'
import { Timetable } from './timetable.ts'

export interface SimulationGiven {
  homes: number
  years: number
  seed: number
  from: Day
  policy: Policy
  /** Days on which the worker is away: once a year, for one to five days. */
  outages?: boolean
  heard?: Partial<Heard> & {
    /** The company is made, and nothing has happened yet. */
    onBegin?: (company: Company) => void
    /** Something changed at a home, by people or by the office, at a moment: what a copy of the company must know. */
    onAct?: (act: Act) => void
    /** The worker is about to plan a home or to look at a household. */
    onWork?: (at: Date) => void
    onPlanned?: (home: MadeUpHome) => void
  }
  /** Asked after each moment; what it promises is waited for, so that others get the processor. */
  breathe?: () => Promise<void> | null
}

/** What a copy of the company has to do to stay the same. */
export interface Act {
  at: Date
  home: MadeUpHome
  person?: Person
  /** To open follow-ups, by `kind subjectId`, as the person or the office says. */
  follow?: readonly { kind: string; subjectId: string; says: Says }[]
}
export type Says =
  { asked: string } | { dismissed: string } | { until: Day } | { storm: Day } | { done: string }

export interface Outage {
  from: number
  to: number
}

/** What happens in the made-up company is told through here. */
export interface Run {
  company: Company
  chance: Chance
  policy: Policy
  end: number
  now: () => Date
  today: (zone: string) => Day
  /** Once, so many days on and at a time of day at the home. */
  in: (days: number, time: string, zone: string, act: () => void) => void
  /** The records of a home have changed: planned in the same transaction, told with the next round. */
  changed: (home: MadeUpHome, more?: Omit<Act, 'at' | 'home'>) => void
  heard: Heard
}

export interface SimulationEnd {
  company: Company
  from: Date
  to: Date
  outages: readonly Outage[]
}

/** Rounds of notices begin every quarter of an hour: worker/schedule.ts. */
const ROUND_MS = 15 * 60_000
const NIGHT = '01:15'

type Entry = { plan: MadeUpHome } | { look: Person } | { act: () => void }

/**
 * Runs the follow-up engine over years, with a company of homes made up from a seed: the planning rules of trade/, and
 * the worker's own decisions. Only the moments at which something happens are visited.
 */
export async function simulate(given: SimulationGiven): Promise<SimulationEnd> {
  const { policy, heard: told = {}, from } = given
  const chance = chanceOf(given.seed)
  const company = makeCompany(chance, given.homes, from, policy)
  const start = instantAt(from, '00:00', company.zone).getTime()
  const to = instantAt(addYears(from, given.years), '00:00', company.zone).getTime()
  const outages = given.outages ? makeOutages(chanceOf(given.seed + 1), from, given.years) : []
  const timetable = new Timetable<Entry>()
  let now = new Date(start)
  const days = new Map<string, Day>()
  const today = (zone: string) => {
    let found = days.get(zone)
    if (found === undefined) days.set(zone, (found = dayInZone(now, zone)))
    return found
  }
  const onceBack = (at: number) => {
    const outage = outages.find((each) => at >= each.from && at < each.to)
    return outage ? outage.to : at
  }
  const heard: Heard = {
    onTold: (message: Told) => {
      told.onTold?.(message)
      liveOn.afterMessage(run, message)
    },
    onTask: (task) => {
      told.onTask?.(task)
      liveOn.afterTask(run, task)
    },
    onEnd: (ended) => told.onEnd?.(ended),
  }
  const run: Run = {
    company,
    chance,
    policy,
    heard,
    end: to,
    now: () => now,
    today,
    in: (after, time, zone, act) => {
      const at = instantAt(addDays(today(zone), after), time, zone).getTime()
      if (at > now.getTime() && at < to) timetable.add(at, { act })
    },
    changed: (home, more = {}) => {
      planAndNote(home)
      if (home.contact) noteLook(home.contact)
      told.onAct?.({ at: now, home, ...more })
      // Nothing is asked of what is out of use any more.
      home.devices = home.devices.filter(({ equipment }) => !equipment.retiredOn)
    },
  }

  const planAndNote = (home: MadeUpHome) => {
    const next = planHome(home, policy, today(home.zone), heard.onEnd)
    const at = next === null ? Infinity : onceBack(nightOf(next, home.zone, company.zone))
    if (at === home.planAt) return
    home.planAt = at
    if (at < to) timetable.add(at, { plan: home })
  }
  const noteLook = (person: Person) => {
    const at = onceBack(Math.ceil(nextLook(person, now) / ROUND_MS) * ROUND_MS)
    if (at === person.lookAt) return
    person.lookAt = at
    if (at < to) timetable.add(at, { look: person })
  }

  // The first night finds everything that has begun to speak already.
  for (const home of company.homes) {
    home.planAt = instantAt(from, NIGHT, company.zone).getTime()
    timetable.add(home.planAt, { plan: home })
  }
  told.onBegin?.(company)
  liveOn.begin(run)
  for (let next = timetable.take(); next && next.at < to; next = timetable.take()) {
    if (next.at !== now.getTime()) {
      now = new Date(next.at)
      days.clear()
    }
    const { entry } = next
    if ('act' in entry) entry.act()
    else if ('plan' in entry) {
      if (entry.plan.planAt !== next.at) continue
      entry.plan.planAt = Infinity
      told.onWork?.(now)
      planAndNote(entry.plan)
      told.onPlanned?.(entry.plan)
      if (entry.plan.contact) noteLook(entry.plan.contact)
    } else {
      if (entry.look.lookAt !== next.at) continue
      entry.look.lookAt = Infinity
      told.onWork?.(now)
      tellPerson(entry.look, { policy, now, today, goesAt: (at) => new Date(onceBack(at.getTime())) }, heard)
      noteLook(entry.look)
      if (entry.look.lookAt === next.at)
        throw new Error(`${entry.look.id} is looked at for ever at ${now.toISOString()}`)
    }
    const pause = given.breathe?.()
    if (pause) await pause
  }
  return { company, from: new Date(start), to: new Date(to), outages }
}

const nights = new Map<string, number>()

/** The first nightly run that finds that day begun at the home. */
function nightOf(on: Day, zone: string, companyZone: string): number {
  const key = `${on}${zone}${companyZone}`
  let found = nights.get(key)
  if (found !== undefined) return found
  // A home may be a day ahead of the company, or behind it.
  let day = addDays(on, -1)
  do {
    found = instantAt(day, NIGHT, companyZone).getTime()
    day = addDays(day, 1)
  } while (dayInZone(new Date(found), zone) < on)
  nights.set(key, found)
  return found
}

/** One stretch of days a year, at any hour: a worker that nobody noticed was down. */
function makeOutages(chance: Chance, from: Day, years: number): Outage[] {
  return Array.from({ length: years }, (_, n) => {
    const first = addDays(addYears(from, n), chance.between(20, 330))
    const start = Date.UTC(
      yearOf(first),
      Number(first.slice(5, 7)) - 1,
      Number(first.slice(8)),
      chance.between(0, 23),
      7,
    )
    return { from: start, to: start + chance.between(6, 5 * 24) * 3_600_000 }
  })
}
