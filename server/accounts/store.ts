import { Prisma } from '../../prisma/generated/client.ts'
import { type Db, query } from '../db.ts'

/** A session or a token in force, and whose it is. */
export interface Credential {
  id: string
  usedAt: Date | null
  /** Null: until it is revoked. */
  endsAt: Date | null
  user: { id: string; role: string; name: string }
}
type Row = Pick<Credential, 'id' | 'usedAt' | 'endsAt'> & { userId: string; role: string; name: string }

/** Null when it is over, revoked, or the person may not enter. Every request asks this. */
export async function findSession(
  db: Db,
  tokenHash: Uint8Array<ArrayBuffer>,
  now: Date,
): Promise<Credential | null> {
  const [found] = await query<Row>(
    db,
    Prisma.sql`
      SELECT s.id::text, s.last_seen_at AS "usedAt", s.expires_at AS "endsAt", u.id::text AS "userId", u.role, u.name
        FROM session s JOIN staff u ON u.id = s.user_id
       WHERE s.token_hash = ${tokenHash} AND s.revoked_at IS NULL AND s.expires_at > ${now}
         AND u.disabled_at IS NULL`,
  )
  return found ? credentialOf(found) : null
}

/** The same of a token. */
export async function findApiToken(
  db: Db,
  tokenHash: Uint8Array<ArrayBuffer>,
  now: Date,
): Promise<Credential | null> {
  const [found] = await query<Row>(
    db,
    Prisma.sql`
      SELECT t.id::text, t.last_used_at AS "usedAt", t.expires_at AS "endsAt", u.id::text AS "userId", u.role, u.name
        FROM api_token t JOIN staff u ON u.id = t.user_id
       WHERE t.token_hash = ${tokenHash} AND t.revoked_at IS NULL
         AND (t.expires_at IS NULL OR t.expires_at > ${now}) AND u.disabled_at IS NULL`,
  )
  return found ? credentialOf(found) : null
}

const credentialOf = ({ id, usedAt, endsAt, userId, role, name }: Row): Credential => ({
  id,
  usedAt,
  endsAt,
  user: { id: userId, role, name },
})

/** A session that was ended for a device which must give up what it holds. */
export function findWiped(db: Db, tokenHash: Uint8Array<ArrayBuffer>) {
  return db.session.findFirst({
    where: { tokenHash, wipe: true },
    select: { id: true, userId: true },
  })
}

/** False when it was said before. */
export async function markWiped(db: Db, id: string, now: Date): Promise<boolean> {
  const { count } = await db.session.updateMany({ where: { id, wipedAt: null }, data: { wipedAt: now } })
  return count === 1
}

export function touchSession(db: Db, id: string, now: Date, expiresAt: Date) {
  return db.session.updateMany({ where: { id, revokedAt: null }, data: { lastSeenAt: now, expiresAt } })
}

export function touchApiToken(db: Db, id: string, now: Date) {
  return db.apiToken.updateMany({ where: { id }, data: { lastUsedAt: now } })
}

export function findUserByEmail(db: Db, email: string) {
  return db.user.findFirst({ where: { email } })
}

/** Ends every session of a person but one. `wipe`: their devices give up what they hold, too. */
export function revokeSessions(
  db: Db,
  userId: string,
  now: Date,
  exceptId: string | null,
  { wipe = false } = {},
) {
  return db.session.updateMany({
    where: { userId, revokedAt: null, ...(exceptId && { id: { not: exceptId } }) },
    data: { revokedAt: now, wipe },
  })
}

/** A one-time link in force. */
export function findUserToken(db: Db, tokenHash: Uint8Array<ArrayBuffer>, now: Date) {
  return db.userToken.findFirst({
    where: { tokenHash, usedAt: null, expiresAt: { gt: now }, user: { disabledAt: null } },
    include: { user: true },
  })
}
