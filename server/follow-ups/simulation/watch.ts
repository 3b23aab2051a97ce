import type { Calendar } from './calendar.ts'
import { countMessages, type Counted } from './figures.ts'
import { type Promised, watchPromises } from './promises.ts'
import { simulate, type SimulationGiven } from './simulate.ts'

export interface Watching extends Omit<SimulationGiven, 'heard'> {
  calendar: Calendar
}
export interface Simulated extends Counted {
  devices: number
  dueDates: number
  met: number
  metAfterDue: number
  broken: Record<Promised, number>
  examples: string[]
}

/** One simulation with everything watched. */
export async function watchSimulation({ calendar, ...wanted }: Watching): Promise<Simulated> {
  const promises = watchPromises(wanted.policy, calendar)
  const counts = countMessages(calendar)
  let now = new Date(`${wanted.from}T00:00:00Z`)
  let devices = 0
  const { outages, to } = await simulate({
    ...wanted,
    heard: {
      onBegin: ({ homes }) => {
        for (const home of homes) promises.see(home, now)
        devices = homes.reduce((sum, home) => sum + home.devices.length, 0)
      },
      onWork: (at) => void (now = at),
      onPlanned: (home) => promises.see(home, now),
      onAct: ({ home, at }) => {
        now = at
        promises.see(home, at)
      },
      onEnd: ({ home, followUp }) => promises.meet(home, followUp, now),
      onTask: ({ home, followUp }) => promises.meet(home, followUp, now),
      onTold: (told) => {
        promises.onTold(told)
        counts.onTold(told)
      },
    },
  })
  return {
    ...counts.counted(),
    ...promises.finish(to, outages),
    devices,
    broken: promises.broken,
    examples: promises.examples,
  }
}
