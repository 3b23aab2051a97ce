import { Prisma } from '../../prisma/generated/client.ts'
import type { Language } from '../../trade/day-in-words.ts'
import { type Db, query } from '../db.ts'
import type { MessageKind } from '../messages/categories.ts'

export interface StoredWording {
  version: number
  /** Null: the wording that came with the program. */
  source: string | null
  note: string
  by: string | null
  at: Date
}

/** What holds now, for the letters that the office ever changed. */
export function listCurrent(
  db: Db,
): Promise<{ id: string; kind: MessageKind; language: Language; isOwn: boolean }[]> {
  return query(
    db,
    Prisma.sql`SELECT DISTINCT ON (kind, language) id, kind, language, source IS NOT NULL AS "isOwn"
                 FROM wording ORDER BY kind, language, version DESC`,
  )
}

export async function listSources(
  db: Db,
  ids: readonly string[],
): Promise<{ id: string; source: string | null }[]> {
  if (ids.length === 0) return []
  return db.wording.findMany({ where: { id: { in: [...ids] } }, select: { id: true, source: true } })
}

export interface CurrentWording extends StoredWording {
  kind: MessageKind
  language: Language
  /** Letters that had to be written in the built-in words since this version holds. */
  fallbacks: number
}

export function listLetters(db: Db): Promise<CurrentWording[]> {
  return db.$queryRaw`
    SELECT w.*, s.name AS by,
           (SELECT count(DISTINCT t.message_id)::int FROM message_trouble t JOIN message m ON m.id = t.message_id
             WHERE t.kind = 'wording' AND t.at >= w.at AND m.kind = w.kind AND m.language = w.language) AS fallbacks
      FROM (SELECT DISTINCT ON (kind, language) kind, language, version, source, note, by_id, created_at AS at
              FROM wording ORDER BY kind, language, version DESC) w
      LEFT JOIN staff s ON s.id = w.by_id`
}

/** Newest first. */
export function listVersions(db: Db, kind: MessageKind, language: Language): Promise<StoredWording[]> {
  return db.$queryRaw`
    SELECT w.version, w.source, w.note, s.name AS by, w.created_at AS at
      FROM wording w LEFT JOIN staff s ON s.id = w.by_id
     WHERE w.kind = ${kind} AND w.language = ${language}
     ORDER BY w.version DESC LIMIT 200`
}

export async function findVersion(
  db: Db,
  kind: MessageKind,
  language: Language,
  version: number,
): Promise<StoredWording | null> {
  const [row] = await db.$queryRaw<StoredWording[]>`
    SELECT w.version, w.source, w.note, s.name AS by, w.created_at AS at
      FROM wording w LEFT JOIN staff s ON s.id = w.by_id
     WHERE w.kind = ${kind} AND w.language = ${language} AND w.version = ${version}`
  return row ?? null
}

/** @returns false when somebody else saved a version meanwhile */
export async function insertVersion(
  tx: Db,
  wording: {
    id: string
    kind: MessageKind
    language: Language
    seen: number
    source: string | null
    note: string
    byId: string
    now: Date
  },
): Promise<boolean> {
  const { id, kind, language, seen, source, note, byId, now } = wording
  const count = await tx.$executeRaw`
    INSERT INTO wording (id, kind, language, version, source, note, by_id, created_at)
    SELECT ${id}::uuid, ${kind}, ${language}, ${seen + 1}::int, ${source}, ${note}, ${byId}::uuid, ${now}::timestamptz
     WHERE coalesce((SELECT max(version) FROM wording WHERE kind = ${kind} AND language = ${language}), 0) = ${seen}::int
    ON CONFLICT (kind, language, version) DO NOTHING`
  return count === 1
}

/** Writes into the life of messages why they were not written in the company's own words; once, however often tried. */
export async function noteFallbacks(
  db: Db,
  now: Date,
  noted: readonly { messageId: string; detail: string }[],
): Promise<void> {
  if (noted.length === 0) return
  await db.$executeRaw`
    INSERT INTO message_trouble (id, message_id, kind, detail, at)
    SELECT uuid_v7(${now}::timestamptz), n."messageId", 'wording', n.detail, ${now}::timestamptz
      FROM jsonb_to_recordset(${JSON.stringify(noted)}::jsonb) AS n("messageId" uuid, detail text)
     WHERE NOT EXISTS (SELECT 1 FROM message_trouble t WHERE t.message_id = n."messageId" AND t.kind = 'wording'
                        AND t.detail = n.detail)`
}

/** Of a stored message: what its facts are gathered by. */
export async function findLike(db: Db, id: string) {
  return db.message.findUnique({
    where: { id },
    select: {
      id: true,
      kind: true,
      category: true,
      customerId: true,
      visitId: true,
      toName: true,
      context: true,
    },
  })
}

export function getAddress(db: Db, userId: string): Promise<{ email: string; name: string }> {
  return db.user.findUniqueOrThrow({ where: { id: userId }, select: { email: true, name: true } })
}
