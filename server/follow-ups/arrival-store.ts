import { Prisma } from '../../prisma/generated/client.ts'
import { PHONE_THEM } from '../messages/refusal.ts'

/**
 * Whether a letter `m` reached nobody: given up, come back, or held back for the address's sake. What was held back by
 * their own wish, or had nothing to say any more, is no such letter; nor is one whose page somebody opened.
 */
const NOT_ARRIVED = Prisma.sql`(m.state IN ('failed', 'bounced', 'suppressed')
  AND (m.state <> 'suppressed' OR m.last_error LIKE ${`%${PHONE_THEM}`})
  AND m.opened_page_at IS NULL AND m.acted_at IS NULL)`

/** When that was known: a call since then is about more than the letter. */
const KNOWN_AT = Prisma.sql`coalesce(m.bounced_at, m.updated_at)`

/** How the newest letter `m` of a follow-up ended where nobody has phoned (`k`, their last call) since; else null. */
export const NOT_ARRIVED_OF_ROW = Prisma.sql`CASE WHEN ${NOT_ARRIVED} AND (k.at IS NULL OR k.at <= ${KNOWN_AT}) THEN m.state END`

/** Ids of the open follow-ups that count as told, and of which the same is true. Found once for a whole list. */
export const TOLD_IN_VAIN = Prisma.sql`(
  SELECT o.id FROM message m JOIN message_follow_up l ON l.message_id = m.id JOIN follow_up o ON o.id = l.follow_up_id
   WHERE o.closed_at IS NULL AND o.state = 'told' AND ${NOT_ARRIVED}
     AND NOT EXISTS (SELECT FROM message_follow_up y JOIN message newer ON newer.id = y.message_id
                      WHERE y.follow_up_id = o.id AND (newer.created_at, newer.id) > (m.created_at, m.id))
     AND NOT EXISTS (SELECT FROM call_note k WHERE k.follow_up_id = o.id AND k.at > ${KNOWN_AT}))`
