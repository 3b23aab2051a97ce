import { type Day, day } from '../dates.ts'
import type { Reference } from '../verdict.ts'

/** What an alarm senses decides how long it may serve. Keys as in EQUIPMENT_FIELDS.alarm.senses. */
export type Senses = 'smoke' | 'co' | 'smoke-and-co' | 'heat'

/**
 * Years a smoke alarm may serve, counted from manufacture, never from installation. NFPA 72-2007 §10.4.7, NFPA 72-2013
 * §14.4.7.1 (chapter 14, household alarm replacement, in later editions).
 */
export const SMOKE_LIFE_YEARS = 10
export const SMOKE_LIFE: Reference = {
  code: 'NFPA 72',
  edition: '2013',
  article: '14.4.7.1',
  row: 'ten years from the date of manufacture, sooner where the maker says so or the test fails',
}

/** No published limit for heat alarms: the maker's figure, else ten years. Common practice, no source. */
export const HEAT_LIFE_YEARS = 10
export const HEAT_LIFE: Reference = {
  code: 'common practice',
  row: 'heat alarm: the life stated by the maker, else ten years from manufacture',
}

/**
 * Life taken for a CO alarm that states none, by its date of manufacture, newest first. Five to seven years are what
 * fire services publish for older units, seven is the usual figure since the end-of-life signal came in.
 */
export const CO_ASSUMED_LIFE: readonly { madeSince: Day; years: number }[] = [
  { madeSince: day('2009-08-01'), years: 7 },
  { madeSince: day('1900-01-01'), years: 5 },
]
export const CO_LIFE: Reference = {
  code: 'UL 2034',
  article: 'maker’s stated life',
  row: 'printed replace-by date, else stated life, else 5 years (made before August 2009) or 7 years, assumed',
}

/**
 * The end-of-life signal of CO alarms. UL 2034 (edition of 2008-02-28) demands it of units made after 2009-08-01;
 * some fire services print April 2007, so units in between may have it.
 */
export const CO_END_OF_LIFE_SIGNAL = { may: day('2007-04-01'), must: day('2009-08-01') }

/** A label that nobody can read counts as more than ten years old: Massachusetts DFS guide on alarms at home sales. */
export const UNDATED: Reference = {
  code: 'Massachusetts DFS',
  article: 'smoke alarms at sale of a home',
  row: 'no date of manufacture: treated as more than ten years old',
}
