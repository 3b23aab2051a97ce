import type { Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import type { Household, OpenFollowUp } from './household.ts'
import { nextAllowed } from './sending-time.ts'

/** Why the calendar would not write to somebody today; by hand the office may, once it has been told. */
export const HELD_BACK = {
  written: 'Had a letter in the last days',
  snoozed: 'Asked to be left in peace until a day to come',
  asked: 'Asked for a visit',
  booked: 'A visit is booked',
} as const
export type HeldBack = keyof typeof HELD_BACK

interface Given {
  policy: Policy
  now: Date
  today: (zone: string) => Day
}

/** A danger is held back by nothing but a rest. */
export function heldBack(
  { kind, severity, state, snoozedUntil, zone }: OpenFollowUp,
  { commercialAt }: Pick<Household, 'commercialAt'>,
  { policy, now, today }: Given,
): HeldBack | null {
  const { urgency, preference } = mannerOf(kind, severity)
  if (urgency !== 'at-once' && state === 'booked') return 'booked'
  if (urgency !== 'at-once' && state === 'asked') return 'asked'
  if (snoozedUntil !== null && snoozedUntil > today(zone)) return 'snoozed'
  const free = nextAllowed(commercialAt, policy.cap, zone)
  const isOffer = preference === 'reminder' || preference === 'tips'
  return isOffer && free !== null && free > now ? 'written' : null
}

/** The same as a sentence about one. */
export function heldBackInWords(why: HeldBack, { snoozedUntil }: Pick<OpenFollowUp, 'snoozedUntil'>): string {
  switch (why) {
    case 'booked':
      return 'A visit is booked.'
    case 'asked':
      return 'They have asked for a visit.'
    case 'snoozed':
      return `They are to be left in peace until ${dayInWords(snoozedUntil!, 'en')}.`
    case 'written':
      return 'They had a letter in the last days.'
  }
}
