import { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import type { StoredAnswer } from './answer-store.ts'
import { LOOKED_AT } from './office-words.ts'

export interface AnswerRow extends StoredAnswer {
  customerName: string
  customerPhone: string | null
  line1: string
  city: string
  checkedBy: string | null
}

const select = (where: Prisma.Sql, order: Prisma.Sql, limit: number) => Prisma.sql`
  SELECT a.id, a.link_id AS "linkId", a.customer_id AS "customerId", a.property_id AS "propertyId",
         a.follow_up_id AS "followUpId", a.act, a.said, a.before, a.at, a.taken_back_at AS "takenBackAt",
         a.checked_at AS "checkedAt", c.name AS "customerName", c.phone AS "customerPhone", p.line1, p.city,
         s.name AS "checkedBy"
    FROM homeowner_answer a JOIN customer c ON c.id = a.customer_id JOIN property p ON p.id = a.property_id
    LEFT JOIN staff s ON s.id = a.checked_by_id
   WHERE ${where} ORDER BY ${order} LIMIT ${limit}`

/** Nothing is to be done where it protects still, or was taken back. */
const TO_LOOK_AT = Prisma.sql`a.checked_at IS NULL AND a.taken_back_at IS NULL AND a.act IN (${Prisma.join([...LOOKED_AT])})
  AND NOT (a.act = 'checked' AND a.said->>'indicator' = 'good')`

/** Those to be looked at, the earliest first; or all the others, the latest first. */
export function listAnswers(
  db: Db,
  filters: { checked: boolean; propertyId?: string | undefined },
  after: [string, string] | null,
  limit: number,
): Promise<AnswerRow[]> {
  const { checked, propertyId } = filters
  const parts = [checked ? Prisma.sql`NOT (${TO_LOOK_AT})` : TO_LOOK_AT]
  if (propertyId) parts.push(Prisma.sql`a.property_id = ${propertyId}::uuid`)
  if (after) {
    const than = checked ? Prisma.sql`<` : Prisma.sql`>`
    parts.push(Prisma.sql`(a.at, a.id) ${than} (${after[0]}::timestamptz, ${after[1]}::uuid)`)
  }
  const order = checked ? Prisma.sql`a.at DESC, a.id DESC` : Prisma.sql`a.at, a.id`
  return db.$queryRaw<AnswerRow[]>(select(Prisma.join(parts, ' AND '), order, limit))
}

export async function findAnswerRow(db: Db, id: string): Promise<AnswerRow | null> {
  const [row] = await db.$queryRaw<AnswerRow[]>(select(Prisma.sql`a.id = ${id}::uuid`, Prisma.sql`a.id`, 1))
  return row ?? null
}

export async function countToLookAt(db: Db): Promise<number> {
  const [row] = await db.$queryRaw<[{ count: number }]>`
    SELECT count(*)::int AS count FROM homeowner_answer a WHERE ${TO_LOOK_AT}`
  return row.count
}

/** What was said at a home, the latest first: for whoever phones there. */
export function listAnswersAt(db: Db, propertyId: string, limit: number): Promise<AnswerRow[]> {
  const where = Prisma.sql`a.property_id = ${propertyId}::uuid AND a.taken_back_at IS NULL`
  return db.$queryRaw<AnswerRow[]>(select(where, Prisma.sql`a.at DESC, a.id DESC`, limit))
}

export async function setChecked(db: Db, id: string, byId: string, now: Date): Promise<boolean> {
  const { count } = await db.homeownerAnswer.updateMany({
    where: { id, checkedAt: null },
    data: { checkedAt: now, checkedById: byId },
  })
  return count === 1
}
