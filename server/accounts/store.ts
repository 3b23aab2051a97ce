import type { Db } from '../db.ts'

/** A session or a token in force, with its person; null when it is over, revoked, or the person may not enter. */
export function findSession(db: Db, tokenHash: Uint8Array<ArrayBuffer>, now: Date) {
  return db.session.findFirst({
    where: { tokenHash, revokedAt: null, expiresAt: { gt: now }, user: { disabledAt: null } },
    select: { id: true, lastSeenAt: true, user: { select: { id: true, role: true, name: true } } },
  })
}

export function findApiToken(db: Db, tokenHash: Uint8Array<ArrayBuffer>, now: Date) {
  return db.apiToken.findFirst({
    where: {
      tokenHash,
      revokedAt: null,
      OR: [{ expiresAt: null }, { expiresAt: { gt: now } }],
      user: { disabledAt: null },
    },
    select: { id: true, lastUsedAt: true, user: { select: { id: true, role: true, name: true } } },
  })
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

/** Ends every session of a person but one. */
export function revokeSessions(db: Db, userId: string, now: Date, exceptId: string | null) {
  return db.session.updateMany({
    where: { userId, revokedAt: null, ...(exceptId && { id: { not: exceptId } }) },
    data: { revokedAt: now },
  })
}

/** A one-time link in force. */
export function findUserToken(db: Db, tokenHash: Uint8Array<ArrayBuffer>, now: Date) {
  return db.userToken.findFirst({
    where: { tokenHash, usedAt: null, expiresAt: { gt: now }, user: { disabledAt: null } },
    include: { user: true },
  })
}
