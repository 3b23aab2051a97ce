import type { Db } from '../db.ts'
import type { DuplicatesQuery, DuplicatesView } from './schema.ts'
import { isSamePhone } from './phones.ts'

interface Candidate {
  id: string
  name: string
  email: string | null
  phone: string | null
  secondPhone: string | null
  archived: boolean
}

/** Customers with that number in any writing. Looked for by its last digits (index), then compared whole. */
export async function findByPhone(db: Db, phone: string): Promise<Candidate[]> {
  const digits = phone.replace(/\D/g, '')
  if (digits.length < 7) return []
  const rows = await db.$queryRaw<Candidate[]>`
    SELECT id, name, email::text, phone, second_phone AS "secondPhone", archived_at IS NOT NULL AS archived
      FROM customer WHERE search LIKE ${`%${digits.slice(-7)}%`} ORDER BY archived_at NULLS FIRST, name LIMIT 100`
  return rows
    .filter((row) => isSamePhone(row.phone, phone) || isSamePhone(row.secondPhone, phone))
    .slice(0, 10)
}

export function findByEmail(db: Db, email: string): Promise<Candidate[]> {
  return db.$queryRaw<Candidate[]>`
    SELECT id, name, email::text, phone, second_phone AS "secondPhone", archived_at IS NOT NULL AS archived
      FROM customer WHERE email = ${email}::citext ORDER BY archived_at NULLS FIRST, name LIMIT 10`
}

type HomeCandidate = DuplicatesView['properties'][number]

/** Homes at nearly that street line ("14 Quay Ln"): the same house number, and the same postcode where both are known. */
export function findByAddress(
  db: Db,
  { line1 = '', postcode = '' }: Pick<DuplicatesQuery, 'line1' | 'postcode'>,
): Promise<HomeCandidate[]> {
  if (line1.length < 3) return Promise.resolve([])
  return db.$queryRaw<HomeCandidate[]>`
    SELECT p.id, p.line1, p.line2, p.city, p.postcode, p.archived_at IS NOT NULL AS archived,
           c.id AS "contactId", c.name AS "contactName"
      FROM property p
      LEFT JOIN property_party x ON x.property_id = p.id AND x.is_contact AND x.until IS NULL
      LEFT JOIN customer c ON c.id = x.customer_id
     WHERE fold(${line1}) <% p.search
       AND substring(fold(p.line1) FROM '^\\d+') IS NOT DISTINCT FROM substring(fold(${line1}) FROM '^\\d+')
       AND (${postcode} = '' OR p.postcode = '' OR fold(p.postcode) = fold(${postcode}))
     ORDER BY word_similarity(fold(${line1}), p.search) DESC, p.id LIMIT 10`
}

/** Who has to do with one of those homes today. */
export function findPeopleOf(db: Db, propertyIds: readonly string[]): Promise<Candidate[]> {
  if (propertyIds.length === 0) return Promise.resolve([])
  return db.$queryRaw<Candidate[]>`
    SELECT DISTINCT c.id, c.name, c.email::text, c.phone, c.second_phone AS "secondPhone",
           c.archived_at IS NOT NULL AS archived
      FROM property_party x JOIN customer c ON c.id = x.customer_id
     WHERE x.property_id = ANY (${propertyIds}::uuid[]) AND x.until IS NULL LIMIT 20`
}
