import { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import type { LinkView } from './schema.ts'

type Row = Omit<LinkView, 'createdAt' | 'expiresAt' | 'withdrawnAt' | 'lastSeenAt'> & {
  createdAt: Date
  expiresAt: Date
  withdrawnAt: Date | null
  lastSeenAt: Date | null
}

const iso = (at: Date | null) => at?.toISOString() ?? null
const viewOf = (row: Row): LinkView => ({
  ...row,
  createdAt: row.createdAt.toISOString(),
  expiresAt: row.expiresAt.toISOString(),
  withdrawnAt: iso(row.withdrawnAt),
  lastSeenAt: iso(row.lastSeenAt),
})

const select = (now: Date, where: Prisma.Sql) => Prisma.sql`
  SELECT l.id, l.purpose, l.property_id AS "propertyId", p.line1, m.id AS "messageId", m.subject AS "messageSubject",
         l.created_at AS "createdAt", l.expires_at AS "expiresAt", l.revoked_at AS "withdrawnAt",
         l.last_seen_at AS "lastSeenAt",
         CASE WHEN l.revoked_at IS NOT NULL THEN 'withdrawn' WHEN l.expires_at <= ${now}::timestamptz THEN 'run-out'
              ELSE 'open' END AS state
    FROM private_link l LEFT JOIN property p ON p.id = l.property_id LEFT JOIN message m ON m.id = l.id
   WHERE ${where} ORDER BY l.created_at DESC, l.id DESC LIMIT 100`

/** Links that have left the house, the newest first; those of letters still waiting are known to nobody. */
export async function listLinks(db: Db, now: Date, customerId: string): Promise<LinkView[]> {
  const where = Prisma.sql`l.customer_id = ${customerId}::uuid AND ${IS_OUT}`
  return (await db.$queryRaw<Row[]>(select(now, where))).map(viewOf)
}

const IS_OUT = Prisma.sql`NOT EXISTS (
  SELECT 1 FROM message w WHERE w.id = l.id AND w.state NOT IN ('sent', 'bounced', 'sending'))`

export async function findLink(
  db: Db,
  now: Date,
  id: string,
): Promise<(LinkView & { customerId: string }) | null> {
  const [row] = await db.$queryRaw<Row[]>(select(now, Prisma.sql`l.id = ${id}::uuid`))
  const owner = row && (await db.privateLink.findUnique({ where: { id }, select: { customerId: true } }))
  return row && owner ? { ...viewOf(row), ...owner } : null
}

/** @returns false when there is a link of that id already */
export async function insertLink(
  db: Db,
  link: {
    id: string
    customerId: string
    propertyId: string | null
    tokenHash: Buffer
    expiresAt: Date
    now: Date
  },
): Promise<boolean> {
  const { tokenHash, now, ...plain } = link
  const data = { ...plain, purpose: 'due', tokenHash: new Uint8Array(tokenHash), createdAt: now }
  const { count } = await db.privateLink.createMany({ data, skipDuplicates: true })
  return count === 1
}

/** @returns the ids of those that were open until now */
export async function withdrawLinks(
  db: Db,
  which: { id: string } | { customerId: string; propertyId: string | undefined },
  now: Date,
): Promise<string[]> {
  const condition =
    'id' in which
      ? Prisma.sql`l.id = ${which.id}::uuid`
      : which.propertyId
        ? Prisma.sql`l.customer_id = ${which.customerId}::uuid AND l.property_id = ${which.propertyId}::uuid AND ${IS_OUT}`
        : Prisma.sql`l.customer_id = ${which.customerId}::uuid AND ${IS_OUT}`
  const rows = await db.$queryRaw<{ id: string }[]>`
    UPDATE private_link l SET revoked_at = ${now}::timestamptz
     WHERE l.revoked_at IS NULL AND l.expires_at > ${now}::timestamptz AND ${condition} RETURNING l.id`
  return rows.map(({ id }) => id)
}

/** Whether somebody has to do with a home today. */
export async function isParty(db: Db, customerId: string, propertyId: string): Promise<boolean> {
  return (await db.propertyParty.count({ where: { customerId, propertyId, until: null } })) > 0
}
