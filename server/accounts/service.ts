import type { Role } from '../../trade/permissions.ts'
import { audit } from '../audit/store.ts'
import type { Actor, Ctx, UserActor } from '../ctx.ts'
import type { Env } from '../env.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { getCompany } from '../settings/store.ts'
import type { MeView } from './schema.ts'
import { hashPassword, hashToken, isPassword, makeToken, sameSiteToken } from './secrets.ts'
import * as store from './store.ts'
import type { WhoIsKnown } from './who-is-known.ts'

/** Over https the name itself makes the browser insist on Secure, Path=/ and no other host's say. */
export function sessionCookie(env: Env): string {
  return env.publicUrl.startsWith('https:') ? '__Host-watchlamp' : 'watchlamp'
}
const SESSION_DAYS = 30
/** Wrong passwords before the account rests, and for how long; each further one doubles the rest, up to a day. */
const FAILURES_ALLOWED = 5
const REST_MINUTES = 5
const TOUCH_EVERY_MS = 60_000
const MS_PER_DAY = 86_400_000

export const TOKEN_PREFIX = 'wl_'

/** Who a request is from: a token in `Authorization: Bearer`, else the session cookie. */
export async function actorOfRequest(
  ctx: Ctx,
  known: WhoIsKnown,
  authorization: string | undefined,
  cookies: Readonly<Record<string, string | undefined>>,
): Promise<{ actor: Actor; byCookie: boolean }> {
  const bearer = /^Bearer ([\w-]{20,100})$/.exec(authorization ?? '')?.[1]
  if (bearer) {
    const found = await find(ctx, known, store.findApiToken, bearer)
    if (found && isStale(found, ctx.now())) {
      found.usedAt = ctx.now()
      await store.touchApiToken(ctx.db, found.id, ctx.now())
    }
    return { actor: found ? toActor(found.user, null) : { kind: 'nobody' }, byCookie: false }
  }
  const cookie = cookies[sessionCookie(ctx.env)]
  const found = cookie ? await find(ctx, known, store.findSession, cookie) : null
  if (found && isStale(found, ctx.now())) {
    found.usedAt = ctx.now()
    await store.touchSession(ctx.db, found.id, ctx.now(), sessionEnd(ctx.now()))
  }
  return { actor: found ? toActor(found.user, found.id) : { kind: 'nobody' }, byCookie: true }
}

function find(ctx: Ctx, known: WhoIsKnown, read: typeof store.findSession, secret: string) {
  const hash = hashToken(secret)
  const now = ctx.now()
  return known.find(Buffer.from(hash).toString('base64'), now, () => read(ctx.db, hash, now))
}

/** The session behind a cookie that was ended for a device which must give up what it holds; null for any other. */
export async function wipedSession(ctx: Ctx, cookies: Readonly<Record<string, string | undefined>>) {
  const cookie = cookies[sessionCookie(ctx.env)]
  return cookie ? store.findWiped(ctx.db, hashToken(cookie)) : null
}

const isStale = ({ usedAt }: store.Credential, now: Date) =>
  !usedAt || now.getTime() - usedAt.getTime() > TOUCH_EVERY_MS
const sessionEnd = (now: Date) => new Date(now.getTime() + SESSION_DAYS * MS_PER_DAY)

function toActor(user: { id: string; role: string; name: string }, sessionId: string | null): UserActor {
  return { kind: 'user', id: user.id, role: user.role as Role, name: user.name, sessionId }
}

/** The person behind the request. Routes that anyone may call have none. */
export function theUser(ctx: Ctx): UserActor {
  if (ctx.actor.kind !== 'user') throw new Problem('not-logged-in', 'Log in, then try again.')
  return ctx.actor
}

/** Checks a password and opens a session. @returns the cookie's value */
export async function logIn(ctx: Ctx, email: string, password: string, userAgent: string): Promise<string> {
  const user = await store.findUserByEmail(ctx.db, email)
  const now = ctx.now()
  if (user?.lockedUntil && user.lockedUntil > now) throw lockedOut(user.lockedUntil, now)
  const known = await isPassword(user?.passwordHash ?? null, password)
  if (!user || user.disabledAt || !known) {
    if (user) await countFailure(ctx, user.id)
    throw new Problem('wrong-credentials', 'Check both, or ask for a new password by e-mail.')
  }
  await ctx.db.user.update({ where: { id: user.id }, data: { failedLogins: 0, lockedUntil: null } })
  return openSession({ ...ctx, actor: toActor(user, null) }, user.id, userAgent)
}

export async function openSession(ctx: Ctx, userId: string, userAgent: string): Promise<string> {
  const { token, tokenHash } = makeToken()
  const now = ctx.now()
  const id = newId()
  await ctx.db.$transaction(async (tx) => {
    await tx.session.create({
      data: {
        id,
        userId,
        tokenHash,
        userAgent: userAgent.slice(0, 300),
        ip: ctx.ip ?? '',
        createdAt: now,
        lastSeenAt: now,
        expiresAt: sessionEnd(now),
      },
    })
    await audit(ctx, tx, { action: 'session.open', subjectKind: 'user', subjectId: userId })
  })
  return token
}

/** In one statement, so that guesses sent at once are all counted. */
async function countFailure(ctx: Ctx, userId: string): Promise<void> {
  const { failedLogins } = await ctx.db.user.update({
    where: { id: userId },
    data: { failedLogins: { increment: 1 } },
  })
  if (failedLogins < FAILURES_ALLOWED) return
  const minutes = Math.min(REST_MINUTES * 2 ** (failedLogins - FAILURES_ALLOWED), 24 * 60)
  const lockedUntil = new Date(ctx.now().getTime() + minutes * 60_000)
  await ctx.db.user.update({ where: { id: userId }, data: { lockedUntil } })
}

function lockedOut(until: Date, now: Date): Problem {
  const minutes = Math.ceil((until.getTime() - now.getTime()) / 60_000)
  return new Problem(
    'locked-out',
    `Too many wrong passwords. Try again in ${minutes} min, or ask for a new password by e-mail.`,
  )
}

export async function logOut(ctx: Ctx): Promise<void> {
  const { id, sessionId } = theUser(ctx)
  if (!sessionId) return
  await ctx.db.session.updateMany({ where: { id: sessionId, userId: id }, data: { revokedAt: ctx.now() } })
}

export async function whoAmI(ctx: Ctx): Promise<MeView> {
  const me = theUser(ctx)
  const [user, company] = await Promise.all([
    ctx.db.user.findUniqueOrThrow({ where: { id: me.id } }),
    getCompany(ctx.db),
  ])
  return {
    id: user.id,
    name: user.name,
    email: user.email,
    role: me.role,
    csrfToken: sameSiteToken(ctx.env, me.sessionId ?? ''),
    company: { name: company.name, phone: company.phone, timeZone: company.timeZone },
    today: ctx.today(company.timeZone),
    demo: ctx.env.demo,
  }
}

export async function changePassword(ctx: Ctx, current: string, password: string): Promise<void> {
  const me = theUser(ctx)
  const user = await ctx.db.user.findUniqueOrThrow({ where: { id: me.id } })
  if (!(await isPassword(user.passwordHash, current))) {
    throw new Problem('wrong-credentials', 'The present password is not right.')
  }
  await setPassword(ctx, me.id, password, me.sessionId)
}

/** A new password ends every other session of that person. */
async function setPassword(
  ctx: Ctx,
  userId: string,
  password: string,
  keepSessionId: string | null,
): Promise<void> {
  const passwordHash = await hashPassword(password)
  await ctx.db.$transaction(async (tx) => {
    await tx.user.update({
      where: { id: userId },
      data: { passwordHash, failedLogins: 0, lockedUntil: null },
    })
    await store.revokeSessions(tx, userId, ctx.now(), keepSessionId)
    await audit(ctx, tx, { action: 'user.set-password', subjectKind: 'user', subjectId: userId })
  })
}

/** Whose one-time link it is: shown before the password is chosen. Changes nothing, whoever opens it. */
export async function readUserLink(ctx: Ctx, token: string) {
  const found = await store.findUserToken(ctx.db, hashToken(token), ctx.now())
  if (!found) throw linkOver()
  return { email: found.user.email, name: found.user.name, purpose: found.purpose }
}

const linkOver = () =>
  new Problem(
    'link-expired',
    'It was used or has run out. Ask an admin for a new invitation, or for a new password.',
  )

/** Takes up an invitation or a reset: sets the password and opens a session. */
export async function useUserLink(
  ctx: Ctx,
  token: string,
  password: string,
  userAgent: string,
): Promise<string> {
  const found = await store.findUserToken(ctx.db, hashToken(token), ctx.now())
  if (!found) throw linkOver()
  // Claimed by one statement: of two who come at once, one is too late.
  const claimed = await ctx.db.userToken.updateMany({
    where: { id: found.id, usedAt: null },
    data: { usedAt: ctx.now() },
  })
  if (claimed.count === 0) throw linkOver()
  const acting = { ...ctx, actor: toActor(found.user, null) }
  await setPassword(acting, found.userId, password, null)
  return openSession(acting, found.userId, userAgent)
}

export async function listSessions(ctx: Ctx) {
  const me = theUser(ctx)
  const sessions = await ctx.db.session.findMany({
    where: { userId: me.id, revokedAt: null, expiresAt: { gt: ctx.now() } },
    orderBy: { lastSeenAt: 'desc' },
    take: 100,
  })
  return sessions.map((each) => ({
    id: each.id,
    userAgent: each.userAgent,
    ip: each.ip,
    createdAt: each.createdAt.toISOString(),
    lastSeenAt: each.lastSeenAt.toISOString(),
    current: each.id === me.sessionId,
  }))
}

export async function endSession(ctx: Ctx, id: string): Promise<void> {
  const ended = await ctx.db.session.updateMany({
    where: { id, userId: theUser(ctx).id },
    // Ended from another device: that one was lost, or is not trusted any more.
    data: { revokedAt: ctx.now(), wipe: id !== theUser(ctx).sessionId },
  })
  if (ended.count === 0) throw new Problem('not-found', 'You have no such session.')
}

export async function listTokens(ctx: Ctx) {
  const tokens = await ctx.db.apiToken.findMany({
    where: { userId: theUser(ctx).id, revokedAt: null },
    orderBy: { createdAt: 'desc' },
    take: 100,
  })
  return tokens.map(tokenOf)
}

/** @returns the token itself, this once */
export async function createToken(ctx: Ctx, input: { name: string; expiresInDays: number | null }) {
  const made = makeToken()
  const token = `${TOKEN_PREFIX}${made.token}`
  const now = ctx.now()
  const row = await ctx.db.$transaction(async (tx) => {
    const created = await tx.apiToken.create({
      data: {
        id: newId(),
        userId: theUser(ctx).id,
        name: input.name,
        prefix: token.slice(0, 8),
        tokenHash: hashToken(token),
        createdAt: now,
        expiresAt:
          input.expiresInDays === null ? null : new Date(now.getTime() + input.expiresInDays * MS_PER_DAY),
      },
    })
    await audit(ctx, tx, {
      action: 'token.create',
      subjectKind: 'user',
      subjectId: theUser(ctx).id,
      after: { name: input.name },
    })
    return created
  })
  return { ...tokenOf(row), token }
}

export async function revokeToken(ctx: Ctx, id: string): Promise<void> {
  const revoked = await ctx.db.apiToken.updateMany({
    where: { id, userId: theUser(ctx).id, revokedAt: null },
    data: { revokedAt: ctx.now() },
  })
  if (revoked.count === 0) throw new Problem('not-found', 'You have no such token.')
}

function tokenOf(row: {
  id: string
  name: string
  prefix: string
  createdAt: Date
  expiresAt: Date | null
  lastUsedAt: Date | null
}) {
  return {
    id: row.id,
    name: row.name,
    prefix: row.prefix,
    createdAt: row.createdAt.toISOString(),
    expiresAt: row.expiresAt?.toISOString() ?? null,
    lastUsedAt: row.lastUsedAt?.toISOString() ?? null,
  }
}
