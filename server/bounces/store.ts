import { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import { newId } from '../ids.ts'
import type { PutAside } from './schema.ts'

export interface ReportedLetter {
  id: string
  toAddress: string
  customerId: string | null
}

/** The message of a Message-ID, which only those have seen who were sent it. */
export function findByMessageId(db: Db, messageIdHeader: string): Promise<ReportedLetter | null> {
  return db.message.findUnique({
    where: { messageIdHeader },
    select: { id: true, toAddress: true, customerId: true },
  })
}

/** Letters that went to an address since then, two at most. What was handed over was planned within the month before. */
export function listSentTo(db: Db, email: string, since: Date): Promise<ReportedLetter[]> {
  return db.$queryRaw`
    SELECT id, to_address AS "toAddress", customer_id AS "customerId" FROM message
     WHERE lower(to_address) = lower(${email}) AND sent_at >= ${since}::timestamptz
       AND created_at >= ${since}::timestamptz - interval '30 days'
     LIMIT 2`
}

/** @returns false when it was known to have come back already */
export async function setBounced(db: Db, id: string, detail: string, now: Date): Promise<boolean> {
  const { count } = await db.message.updateMany({
    where: { id, state: { in: ['sent', 'sending', 'planned', 'failed'] } },
    data: {
      state: 'bounced',
      bouncedAt: now,
      lastError: detail,
      leaseUntil: null,
      leaseBy: null,
      updatedAt: now,
    },
  })
  return count === 1
}

/** Kept once: the same report may come again. */
export async function addTrouble(
  db: Db,
  trouble: { messageId: string; kind: 'bounced' | 'complained' | 'delayed'; detail: string },
  now: Date,
): Promise<void> {
  const known = await db.messageTrouble.findFirst({ where: trouble, select: { id: true } })
  if (!known) await db.messageTrouble.create({ data: { id: newId(), ...trouble, at: now } })
}

/** A complaint counts for more than what came back: somebody meant it. */
export async function suppress(
  db: Db,
  email: string,
  reason: 'bounced' | 'complained',
  detail: string,
  now: Date,
): Promise<void> {
  await db.$executeRaw`
    INSERT INTO suppressed_address AS s (email, reason, detail, created_at)
    VALUES (${email}, ${reason}, ${detail.slice(0, 500)}, ${now}::timestamptz)
    ON CONFLICT (email) DO UPDATE SET reason = excluded.reason, detail = excluded.detail, created_at = excluded.created_at
     WHERE s.reason = 'bounced' AND excluded.reason = 'complained'`
}

export async function findPutAside(db: Db, email: string): Promise<(PutAside & { email: string }) | null> {
  const found = await db.suppressedAddress.findUnique({
    where: { email },
    select: { email: true, reason: true, detail: true },
  })
  return found as (PutAside & { email: string }) | null
}

/** @returns false when it was not put aside any more */
export async function lift(db: Db, email: string): Promise<boolean> {
  const { count } = await db.suppressedAddress.deleteMany({ where: { email } })
  return count === 1
}

export interface UnreachableRow extends PutAside {
  email: string
  customerId: string | null
  name: string | null
  phone: string | null
  since: Date
  open: number
}

const FROM_PUT_ASIDE = Prisma.sql`
  FROM suppressed_address s LEFT JOIN customer c ON c.email = s.email AND c.archived_at IS NULL`

/** Addresses put aside and whose they are, with how much is open at the homes they are contact of. */
export function listUnreachable(db: Db, limit: number): Promise<UnreachableRow[]> {
  return db.$queryRaw`
    SELECT s.email::text, c.id AS "customerId", c.name, c.phone, s.reason, s.detail, s.created_at AS since,
           (SELECT count(*)::int FROM property_party p JOIN follow_up f ON f.property_id = p.property_id
             WHERE p.customer_id = c.id AND p.is_contact AND p.until IS NULL AND f.closed_at IS NULL) AS open
      ${FROM_PUT_ASIDE}
     ORDER BY c.id IS NULL, s.created_at DESC, s.email, c.id
     LIMIT ${limit}`
}

export async function countUnreachable(db: Db): Promise<number> {
  const [row] = await db.$queryRaw<[{ count: number }]>`SELECT count(*)::int AS count ${FROM_PUT_ASIDE}`
  return row.count
}
