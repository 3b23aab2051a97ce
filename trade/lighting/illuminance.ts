import type { SpaceKind } from '../property.ts'

/** Lux in one footcandle: one lumen on a square foot of 0.3048 m × 0.3048 m. */
export const LUX_PER_FOOTCANDLE = 1 / 0.3048 ** 2

/** Light recommended for a task or a room, maintained, with the print it stands in: the figures differ by edition. */
export interface Illuminance {
  footcandles: number
  task: string
  source: string
}

const OLDER = 'IES handbook, older edition, table 10-7'
const LATER = 'IESNA residential list, later edition'
const DIGEST_2017 = 'IES as digested by the trade press, 2017'

/** What a room needs to walk and live in: the figure that a reading is judged by, newest first. */
const GENERAL: Partial<Record<SpaceKind, readonly Illuminance[]>> = {
  living: [
    { footcandles: 3, task: 'general', source: DIGEST_2017 },
    { footcandles: 5, task: 'general', source: OLDER },
  ],
  kitchen: [{ footcandles: 10, task: 'general', source: OLDER }],
}
const ROOM: readonly Illuminance[] = [{ footcandles: 5, task: 'general', source: LATER }]
const LIVED_IN: readonly SpaceKind[] = [
  'bedroom',
  'hall',
  'stairs',
  'living',
  'dining',
  'family',
  'kitchen',
  'bathroom',
  'laundry',
  'office',
  'utility',
  'basement-finished',
  'attic-habitable',
]

/** What is done in the room beyond that: shown beside the verdict, for the place where it is done. */
const TASKS: Partial<Record<SpaceKind, readonly Illuminance[]>> = {
  kitchen: [
    { footcandles: 30, task: 'counter', source: LATER },
    { footcandles: 40, task: 'counter, range, sink', source: OLDER },
  ],
  dining: [{ footcandles: 20, task: 'table', source: DIGEST_2017 }],
  bathroom: [
    { footcandles: 30, task: 'grooming', source: LATER },
    { footcandles: 40, task: 'mirror', source: OLDER },
  ],
  laundry: [{ footcandles: 40, task: 'laundry', source: OLDER }],
  office: [{ footcandles: 40, task: 'desk', source: DIGEST_2017 }],
  living: [
    { footcandles: 30, task: 'casual reading', source: LATER },
    { footcandles: 50, task: 'serious reading', source: LATER },
  ],
}

/** Figures for a kind of room, newest first; empty where nothing is published for homes. */
export function generalLight(kind: SpaceKind): readonly Illuminance[] {
  return LIVED_IN.includes(kind) ? (GENERAL[kind] ?? ROOM) : []
}

export function taskLight(kind: SpaceKind): readonly Illuminance[] {
  return TASKS[kind] ?? []
}
