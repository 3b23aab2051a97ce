import type { Day } from './dates.ts'

/** Years on the cover of NFPA 70 since 1940, oldest first. From memory as a list; many confirmed one by one. */
export const EDITIONS = [
  '1940',
  '1947',
  '1951',
  '1953',
  '1956',
  '1959',
  '1962',
  '1965',
  '1968',
  '1971',
  '1975',
  '1978',
  '1981',
  '1984',
  '1987',
  '1990',
  '1993',
  '1996',
  '1999',
  '2002',
  '2005',
  '2008',
  '2011',
  '2014',
  '2017',
  '2020',
  '2023',
  '2026',
] as const
export type Edition = (typeof EDITIONS)[number]

export function isEdition(value: string): value is Edition {
  return (EDITIONS as readonly string[]).includes(value)
}

/** True when `edition` is `since` or newer. */
export function isAtLeast(edition: Edition, since: Edition): boolean {
  return edition >= since
}

/** An edition that a jurisdiction put in force on a day. */
export interface Adoption {
  edition: Edition
  from: Day
}

/** A local change to a requirement, entered by an admin: who and when are kept with the record. */
export interface Amendment {
  /** The requirement it changes: a rule id, with a place where the rule knows places (`ground-fault.places/kitchen`). */
  requirement: string
  effect: 'add' | 'remove' | 'postpone'
  /** First day in force (add, remove) or the day to which the requirement is put off (postpone). */
  from: Day
  source: string
  note?: string
}

/** What a rule may know of time and place. Nothing else reaches it from outside. */
export interface RuleContext {
  today: Day
  /** In force for new work on `today`; null where the jurisdiction's adoption is not known. */
  editionNow: Edition | null
  /** In force when this part was built or last altered; null where it cannot be told. */
  editionWhenBuilt: Edition | null
  amendments: readonly Amendment[]
}

/** The edition in force on a day: the adoption that began last on or before it. Null before the first or with none. */
export function editionInForce(adoptions: readonly Adoption[], on: Day): Edition | null {
  let found: Adoption | null = null
  for (const adoption of adoptions) {
    if (adoption.from <= on && (!found || adoption.from >= found.from)) found = adoption
  }
  return found?.edition ?? null
}
