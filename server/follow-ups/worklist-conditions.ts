import { Prisma } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import { anywhere } from '../search/forgiving.ts'
import { TOLD_IN_VAIN } from './arrival-store.ts'
import { RECEIVER } from './household-store.ts'
import type { WorklistFilters } from './schema.ts'

// What stands on the worklist, and where, over the rows of FROM (household-store.ts).

/** `14 Quay Lane` without its number. An address that begins otherwise is a street by itself. */
export const STREET = Prisma.sql`regexp_replace(p.line1, '^\\s*\\d+\\S*\\s+', '')`

export const TODAY = Prisma.sql`(now_at AT TIME ZONE p.time_zone)::date`

/** Visits are confirmed and reminded of by themselves: those follow-ups stand on no list. */
export const LISTED = Prisma.sql`f.kind NOT IN ('visit-confirmation', 'visit-reminder')`

/** Which tab a follow-up stands on. Whom our letter did not reach waits for us, and not we for them. */
export const TAB = Prisma.sql`CASE
  WHEN f.closed_at IS NOT NULL THEN 'done'
  WHEN NOT ${LISTED} THEN 'none'
  WHEN f.state = 'booked' OR f.snoozed_until > ${TODAY} THEN 'coming'
  WHEN f.state = 'told' AND f.due_on >= ${TODAY} AND f.id NOT IN ${TOLD_IN_VAIN} THEN 'waiting'
  WHEN f.state = 'planned' AND f.due_on > ${TODAY} + 30 THEN 'coming'
  ELSE 'due' END`

/** Sent again with a new link, a letter is no second reminder: whoever lost theirs has ignored nothing. */
export const isFirst = (letter: Prisma.Sql) => Prisma.sql`${letter}.context->'again' IS NULL`

/** Those that a figure above the list counts, open ones and what ended this month: countWorklist says the same for all. */
function counted(only: NonNullable<WorklistFilters['only']>, today: Day): Prisma.Sql {
  const open = Prisma.sql`f.closed_at IS NULL AND ${LISTED}`
  const month = Prisma.sql`date_trunc('month', ${today}::date)`
  const ofMonth = Prisma.sql`(${open} OR f.closed_at >= ${month} AND ${LISTED})
    AND date_trunc('month', f.due_on) = ${month}`
  const letters = (having: Prisma.Sql) => Prisma.sql`(
    SELECT ${having} FROM message_follow_up l JOIN message m ON m.id = l.message_id WHERE l.follow_up_id = f.id)`
  switch (only) {
    case 'month':
      return ofMonth
    case 'answered':
      return Prisma.sql`${ofMonth} AND (f.state IN ('asked', 'booked', 'done')
        OR ${letters(Prisma.sql`count(m.acted_at) > 0`)})`
    case 'booked':
      return Prisma.sql`${open} AND f.state = 'booked'`
    case 'ignored':
      return Prisma.sql`${open} AND f.state = 'told' AND ${letters(
        Prisma.sql`count(*) FILTER (WHERE m.state = 'sent' AND ${isFirst(Prisma.sql`m`)}) >= 2 AND count(m.acted_at) = 0`,
      )}`
    case 'bounced':
      return Prisma.sql`${open} AND EXISTS (
        SELECT 1 FROM customer c JOIN suppressed_address s ON s.email = c.email AND s.reason = 'bounced'
         WHERE c.id = ${RECEIVER})`
  }
}

export function conditions(filters: WorklistFilters, today: Day): Prisma.Sql {
  const parts = filters.only
    ? [Prisma.sql`(${counted(filters.only, today)})`]
    : [
        // Told apart for the planner's sake: open ones have an index of their own.
        filters.tab === 'done' ? Prisma.sql`f.closed_at IS NOT NULL` : Prisma.sql`f.closed_at IS NULL`,
        Prisma.sql`${TAB} = ${filters.tab}`,
      ]
  if (filters.kind) parts.push(Prisma.sql`f.kind = ${filters.kind}`)
  if (filters.propertyId) parts.push(Prisma.sql`f.property_id = ${filters.propertyId}::uuid`)
  if (filters.city) parts.push(Prisma.sql`fold(p.city) = fold(${filters.city})`)
  if (filters.street) parts.push(Prisma.sql`fold(p.line1) LIKE fold(${anywhere(filters.street)})`)
  if (filters.onStreet) parts.push(Prisma.sql`fold(${STREET}) = fold(${filters.onStreet})`)
  if (filters.week === 'earlier') {
    parts.push(Prisma.sql`f.due_on < date_trunc('week', ${today}::date)`)
  } else if (filters.week) {
    parts.push(Prisma.sql`f.due_on >= date_trunc('week', ${filters.week}::date)
      AND f.due_on < date_trunc('week', ${filters.week}::date) + interval '7 days'`)
  }
  if (filters.search) {
    const wanted = anywhere(filters.search)
    parts.push(Prisma.sql`(p.search LIKE fold(${wanted}) OR fold(coalesce(e.label, n.text, '')) LIKE fold(${wanted})
      OR EXISTS (SELECT 1 FROM customer who WHERE who.id = ${RECEIVER} AND who.search LIKE fold(${wanted})))`)
  }
  return Prisma.join(parts, ' AND ')
}
