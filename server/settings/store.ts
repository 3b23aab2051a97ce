import type { Company, Jurisdiction, Prisma } from '../../prisma/generated/client.ts'
import type { Adoption, Amendment } from '../../trade/editions.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import type { CompanyView, JurisdictionView } from './schema.ts'

/** What goes into a jsonb column. */
export type CompanyChange = Prisma.CompanyUpdateManyMutationInput
export type JsonArray = Prisma.InputJsonArray

/** Null until the first admin has set it up. */
export function findCompany(db: Db): Promise<Company | null> {
  return db.company.findUnique({ where: { id: 1 } })
}

export async function getCompany(db: Db): Promise<Company> {
  const company = await findCompany(db)
  if (!company)
    throw new Problem(
      'not-available',
      'The company has not been set up yet: open the link in the log of the first start.',
    )
  return company
}

export async function updateCompany(db: Db, seen: number, change: CompanyChange): Promise<boolean> {
  const { count } = await db.company.updateMany({
    where: { id: 1, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

export function companyOf(row: Company): CompanyView {
  return {
    name: row.name,
    phone: row.phone,
    email: row.email,
    addressLines: row.addressLines,
    timeZone: row.timeZone,
    policy: row.policy as Record<string, unknown>,
    version: row.version,
  }
}

export function listJurisdictions(db: Db): Promise<Jurisdiction[]> {
  return db.jurisdiction.findMany({ orderBy: { name: 'asc' }, take: 500 })
}

export async function getJurisdiction(db: Db, id: string): Promise<Jurisdiction> {
  const row = await db.jurisdiction.findUnique({ where: { id } })
  if (!row) throw new Problem('not-found', 'There is no such jurisdiction.')
  return row
}

export async function updateJurisdiction(
  db: Db,
  id: string,
  seen: number,
  change: Prisma.JurisdictionUpdateManyMutationInput,
): Promise<boolean> {
  const { count } = await db.jurisdiction.updateMany({
    where: { id, version: seen },
    data: { ...change, version: { increment: 1 } },
  })
  return count === 1
}

export type RecordedAmendment = Amendment & { by?: string; at?: string }

export function jurisdictionOf(row: Jurisdiction): JurisdictionView {
  return {
    id: row.id,
    name: row.name,
    region: row.region,
    isUs: row.isUs,
    adoptions: row.adoptions as unknown as Adoption[],
    amendments: row.amendments as unknown as RecordedAmendment[],
    version: row.version,
  }
}

interface AuditRow {
  id: string
  at: Date
  actor_kind: string
  actor_name: string | null
  action: string
  subject_kind: string
  subject_id: string | null
  before: unknown
  after: unknown
}

export function listAudit(
  db: Db,
  filter: {
    subjectKind?: string | undefined
    subjectId?: string | undefined
    before: [string, string] | null
    limit: number
  },
): Promise<AuditRow[]> {
  const [at, id] = filter.before ?? [null, null]
  return db.$queryRaw<AuditRow[]>`
    SELECT a.id, a.at, a.actor_kind, coalesce(s.name, c.name) AS actor_name, a.action, a.subject_kind, a.subject_id,
      a.before, a.after
    FROM audit_entry a LEFT JOIN staff s ON s.id = a.actor_id LEFT JOIN customer c ON c.id = a.actor_id
    WHERE (${filter.subjectKind ?? null}::text IS NULL OR a.subject_kind = ${filter.subjectKind ?? null}::text)
      AND (${filter.subjectId ?? null}::uuid IS NULL OR a.subject_id = ${filter.subjectId ?? null}::uuid)
      AND (${at}::timestamptz IS NULL OR (a.at, a.id) < (${at}::timestamptz, ${id}::uuid))
    ORDER BY a.at DESC, a.id DESC
    LIMIT ${filter.limit}`
}
