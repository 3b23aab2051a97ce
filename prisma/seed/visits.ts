import { addDays, type Day } from '../../trade/dates.ts'
import { instantAt } from '../../server/time.ts'
import type { Chance } from './chance.ts'

const ZONE = 'America/New_York'
/** Half a working day each: window, and when the technician is there. */
const SLOTS = [
  { window: ['08:00', '10:00'], starts: '08:30' },
  { window: ['10:00', '12:00'], starts: '10:45' },
  { window: ['13:00', '15:00'], starts: '13:15' },
  { window: ['15:00', '17:00'], starts: '15:30' },
] as const

export interface Slot {
  technicianId: string
  day: Day
  windowStartsAt: Date
  windowEndsAt: Date
  startsAt: Date
  endsAt: Date
  lengthMinutes: number
}

/** Hands out places in technicians' days, none of them twice. */
export function makeDiary(chance: Chance, technicianIds: readonly string[]) {
  const taken = new Set<string>()
  const tryOne = (day: Day): Slot | null => {
    if (isWeekend(day)) return null
    const technicianId = chance.pick(technicianIds)
    const index = chance.whole(0, SLOTS.length - 1)
    const key = `${technicianId} ${day} ${index}`
    if (taken.has(key)) return null
    taken.add(key)
    const { window, starts } = SLOTS[index]!
    const startsAt = instantAt(day, starts, ZONE)
    const lengthMinutes = chance.pick([75, 90, 105, 120])
    return {
      technicianId,
      day,
      windowStartsAt: instantAt(day, window[0], ZONE),
      windowEndsAt: instantAt(day, window[1], ZONE),
      startsAt,
      endsAt: new Date(startsAt.getTime() + lengthMinutes * 60_000),
      lengthMinutes,
    }
  }
  return {
    /** A place on that day, or on one soon after. */
    from: (day: Day): Slot => {
      for (let later = 0; ; later++) {
        const slot = tryOne(addDays(day, Math.floor(later / 12)))
        if (slot) return slot
      }
    },
    /** A place on that very day, or null when twelve tries find none. */
    on: (day: Day): Slot | null => {
      for (let times = 0; times < 12; times++) {
        const slot = tryOne(day)
        if (slot) return slot
      }
      return null
    },
  }
}

export function isWeekend(day: Day): boolean {
  return [0, 6].includes(new Date(`${day}T00:00:00Z`).getUTCDay())
}
