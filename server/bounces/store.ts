import type { Db } from '../db.ts'
import { newId } from '../ids.ts'

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

export async function suppress(
  db: Db,
  email: string,
  reason: 'bounced' | 'complained',
  detail: string,
  now: Date,
): Promise<void> {
  await db.suppressedAddress.createMany({
    data: [{ email, reason, detail: detail.slice(0, 500), createdAt: now }],
    skipDuplicates: true,
  })
}

export interface UnreachableRow {
  customerId: string
  name: string
  email: string
  phone: string | null
  reason: string
  detail: string
  since: Date
  open: number
}

/** Customers whose address is put aside, the latest first, with how much is open at the homes they are contact of. */
export function listUnreachable(db: Db): Promise<UnreachableRow[]> {
  return db.$queryRaw`
    SELECT c.id AS "customerId", c.name, c.email::text, c.phone, s.reason, s.detail, s.created_at AS since,
           (SELECT count(*)::int FROM property_party p JOIN follow_up f ON f.property_id = p.property_id
             WHERE p.customer_id = c.id AND p.is_contact AND p.until IS NULL AND f.closed_at IS NULL) AS open
      FROM suppressed_address s JOIN customer c ON c.email = s.email
     WHERE c.archived_at IS NULL AND s.reason IN ('bounced', 'complained')
     ORDER BY s.created_at DESC, c.id
     LIMIT 500`
}
