import type { EditionRow, Requirement } from '../requirement.ts'

/** Least distance to a fixed cooking appliance, in feet, by what the alarm is. */
export interface CookingDistances {
  photoelectric: number
  ionisation: number
  /** Ionisation with a button that silences it. */
  silenced: number
  /** Listed as resisting cooking nuisance; null = the edition does not know the kind. */
  listed: number | null
}

/** IRC R314.3.1, by the edition of NFPA 70 that goes with it; null where the code leaves it to UL 217. */
export const COOKING_IRC: readonly EditionRow<CookingDistances | null>[] = [
  {
    since: '2014',
    value: { photoelectric: 6, ionisation: 20, silenced: 10, listed: null },
    source: 'IRC-2015 and IRC-2018 R314.3.1',
  },
  {
    since: '2020',
    value: { photoelectric: 6, ionisation: 20, silenced: 10, listed: 6 },
    source: 'IRC-2021 R314.3.1',
  },
  { since: '2023', value: null, source: 'IRC-2024 deletes the distances by kind of sensor' },
]
export const COOKING_IRC_RULE: Requirement = {
  code: 'IRC',
  keys: ['alarms.cooking-distance', 'alarms.cooking-distance/IRC'],
  before: 'no',
  rows: [
    { since: '2014', required: true, article: 'R314.3.1', source: 'IRC-2015 R314.3.1' },
    { since: '2023', required: false, article: 'R310', source: 'IRC-2024' },
  ],
}

/**
 * NFPA 72 §29.11.3.4 (2019, 2022): never within 10 ft, and up to 20 ft only with a silence button, a photoelectric
 * sensor or the listing against cooking nuisance. In an open plan where the 10 ft zone would leave no place for a
 * required alarm, 6 ft; that is for the technician to say.
 */
export const COOKING_NFPA = { never: 10, anyKind: 20, openPlan: 6 } as const
export const COOKING_NFPA_RULE: Requirement = {
  code: 'NFPA 72',
  keys: ['alarms.cooking-distance', 'alarms.cooking-distance/NFPA'],
  before: 'unknown',
  rows: [
    { since: '2011', required: true, article: '29.8.3.4', source: 'number and year from memory' },
    { since: '2020', required: true, article: '29.11.3.4', source: 'NFPA 72-2019 §29.11.3.4' },
  ],
}

/** Least distance to the door of a room with a tub or shower, to an air outlet, to the tip of a fan blade, in inches. */
export const AIR_AND_STEAM_INCHES = 36
export const AIR_AND_STEAM_RULE: Requirement = {
  code: 'NFPA 72',
  keys: ['alarms.air-and-steam'],
  before: 'unknown',
  rows: [
    { since: '2011', required: true, article: '29.8.3.4', source: 'number from memory' },
    { since: '2020', required: true, article: '29.11.3.4', source: 'NFPA 72-2019 §29.11.3.4' },
  ],
}

/** How far the top of a wall-mounted unit may stand below the ceiling, in inches. */
export interface WallBand {
  from: number
  to: number
}
/**
 * Smoke: the four inches kept free below the ceiling were dropped in 2007 or 2010, sources differ; 2010 is taken. Heat
 * alarms keep them.
 */
export const SMOKE_WALL_BAND: readonly EditionRow<WallBand>[] = [
  { since: '1940', value: { from: 4, to: 12 }, source: 'NFPA 72 before 2010' },
  { since: '2011', value: { from: 0, to: 12 }, source: 'NFPA 72-2010' },
]
export const HEAT_WALL_BAND: WallBand = { from: 4, to: 12 }
/** On a peaked ceiling within 36 in of the peak, not in its top 4 in. */
export const PEAK_BAND = { from: 4, to: 36 } as const
export const MOUNTING_RULE: Requirement = {
  code: 'NFPA 72',
  keys: ['alarms.mounting'],
  before: 'unknown',
  rows: [
    { since: '2011', required: true, article: '29.8.3.2', source: 'number from memory' },
    { since: '2020', required: true, article: '29.11.3.2', source: 'number from memory' },
  ],
}
