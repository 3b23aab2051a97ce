import type { Client } from 'pg'

/** Tables whose changes open screens are told of. */
const TOLD = [
  'visit',
  'visit_request',
  'inspection',
  'customer',
  'property',
  'follow_up',
  'message',
  'estimate',
]

/** Tables that say who may enter. */
const ACCESS = ['session', 'api_token', 'staff']

/** What the Prisma schema language cannot say and only the migrations make. Each has a test of what it does. CHECK
 *  constraints are the one kind not listed by name: the language knows none at all. */
export const BEYOND_PRISMA: Readonly<Record<string, readonly string[]>> = {
  exclusion: ['visit.visit_no_overlap'],
  function: [
    'digits',
    'fold',
    'refuse_change',
    'refuse_report_change',
    'tell_access',
    'tell_change',
    'uuid_v7',
  ],
  trigger: [
    'audit_entry.audit_entry_append_only',
    'audit_entry.audit_entry_no_truncate',
    'report.report_frozen',
    ...TOLD.flatMap((table) => [`${table}.${table}_told_insert`, `${table}.${table}_told_update`]),
    ...ACCESS.map((table) => `${table}.${table}_access_told`),
  ],
  index: [
    'answer.answer_one_per_subject',
    'customer.customer_phone_digits',
    'customer.customer_search',
    'equipment.equipment_next_check_due',
    'equipment.equipment_replace_by_due',
    'estimate.estimate_offered',
    'finding.finding_open',
    'follow_up.follow_up_due',
    'follow_up.follow_up_ended',
    'follow_up.follow_up_estimate',
    'follow_up.follow_up_finding',
    'follow_up.follow_up_notice_due',
    'follow_up.follow_up_one_open',
    'follow_up.follow_up_request',
    'follow_up.follow_up_visit',
    'message.message_ended_unsent',
    'message.message_visit',
    'message.message_waiting',
    'property.property_last_inspected',
    'property.property_search',
    'property.property_sold',
    'property_party.property_party_one_contact',
    'visit.visit_live',
    'visit.visit_no_access',
  ],
  'generated column': ['customer.search', 'property.search'],
}

/** What a database is made of: kind and name to its definition. */
export type Catalog = Map<string, string>

/** Reads the tables, columns, constraints, indexes, triggers and functions of the public schema, as PostgreSQL itself
 *  writes them down. The bookkeeping of migrations and what extensions brought are left out. */
export async function readCatalog(client: Client): Promise<Catalog> {
  const { rows } = await client.query<{ kind: string; name: string; definition: string }>(CATALOG)
  return new Map(rows.map(({ kind, name, definition }) => [`${kind} ${name}`, definition]))
}

/** How the migrated database differs from the one that the schema describes, one line each, less BEYOND_PRISMA.
 *  Entries of that list which are not there are differences too. */
export function drift(migrated: Catalog, described: Catalog): string[] {
  const allowed = new Set(
    Object.entries(BEYOND_PRISMA).flatMap(([kind, names]) => names.map((name) => `${kind} ${name}`)),
  )
  const lines: string[] = []
  for (const [object, definition] of migrated) {
    if (allowed.has(object)) continue
    const other = described.get(object)
    if (other === undefined) lines.push(`only the migrations make ${object}: ${definition}`)
    else if (other !== definition)
      lines.push(`${object} is ${definition} by the migrations, ${other} by the schema`)
  }
  for (const [object, definition] of described) {
    if (!migrated.has(object)) lines.push(`only the schema has ${object}: ${definition}`)
  }
  for (const object of allowed) {
    if (!migrated.has(object)) lines.push(`BEYOND_PRISMA names ${object}, which is not there`)
  }
  return lines.sort()
}

const CATALOG = `
WITH mine AS (
  SELECT oid, relname FROM pg_class
  WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p') AND relname <> '_prisma_migrations'
), brought AS (
  SELECT objid FROM pg_depend WHERE deptype = 'e'
)
SELECT 'table' AS kind, relname::text AS name, '' AS definition FROM mine
UNION ALL
SELECT CASE attgenerated WHEN '' THEN 'column' ELSE 'generated column' END, relname || '.' || attname,
  format_type(atttypid, atttypmod) || CASE WHEN attnotnull THEN ' not null' ELSE '' END ||
  coalesce(' default ' || pg_get_expr(adbin, adrelid), '')
FROM mine JOIN pg_attribute ON attrelid = mine.oid AND attnum > 0 AND NOT attisdropped
LEFT JOIN pg_attrdef ON adrelid = mine.oid AND adnum = attnum
UNION ALL
SELECT CASE contype WHEN 'x' THEN 'exclusion' ELSE 'constraint' END, relname || '.' || conname, pg_get_constraintdef(c.oid)
FROM mine JOIN pg_constraint c ON conrelid = mine.oid AND contype IN ('p', 'u', 'f', 'x')
UNION ALL
SELECT 'index', relname || '.' || indexrelid::regclass, pg_get_indexdef(indexrelid)
FROM mine JOIN pg_index ON indrelid = mine.oid
WHERE NOT EXISTS (SELECT FROM pg_constraint WHERE conindid = indexrelid)
UNION ALL
SELECT 'trigger', relname || '.' || tgname, pg_get_triggerdef(t.oid)
FROM mine JOIN pg_trigger t ON tgrelid = mine.oid AND NOT tgisinternal
UNION ALL
SELECT 'function', proname::text, pg_get_functiondef(p.oid)
FROM pg_proc p WHERE pronamespace = 'public'::regnamespace AND p.oid NOT IN (SELECT objid FROM brought)
ORDER BY 1, 2`
