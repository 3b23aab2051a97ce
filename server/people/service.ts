import type { z } from 'zod'
import { hashToken } from '../accounts/secrets.ts'
import { staffLink } from '../accounts/staff-link.ts'
import { staffToken } from '../links/tokens.ts'
import { findUserByEmail, revokeSessions } from '../accounts/store.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { type Db, refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { planStaffMessage } from '../messages/service.ts'
import { changedMeanwhile } from '../versions.ts'
import type { inviteBody, personChange } from './schema.ts'
import * as store from './store.ts'

type LinkPurpose = 'set-up' | 'invitation' | 'password-reset'
const LINK_HOURS: Readonly<Record<LinkPurpose, number>> = {
  'set-up': 24 * 7,
  invitation: 24 * 7,
  'password-reset': 2,
}

export async function listPeople(ctx: Ctx) {
  return (await store.listPeople(ctx.db)).map(store.personOf)
}

export const listTechnicians = (ctx: Ctx) => store.listTechnicians(ctx.db)

/** Adds somebody and sends the link with which they choose a password. The same call again sends nothing twice. */
export async function invite(ctx: Ctx, input: z.output<typeof inviteBody>) {
  const id = input.id ?? newId()
  const existing = await store.findPerson(ctx.db, id)
  if (existing) throw new Problem('already-exists', `${existing.name} is here already.`)
  try {
    return await ctx.db
      .$transaction(async (tx) => {
        await tx.user.create({ data: { ...input, id, createdAt: ctx.now() } })
        await audit(ctx, tx, { action: 'person.invite', subjectKind: 'user', subjectId: id, after: input })
        return sendInvitation(ctx, tx, id)
      })
      .then((result) => ring(ctx, result))
  } catch (error) {
    throw refusedBy(error, 'email')
      ? new Problem(
          'already-exists',
          `Someone with ${input.email} is here already; change their role or send the invitation again.`,
        )
      : error
  }
}

export async function inviteAgain(ctx: Ctx, id: string) {
  const person = await store.getPerson(ctx.db, id)
  if (person.passwordHash)
    throw new Problem(
      'wrong-state',
      `${person.name} has come in already; a new password is asked for at the log-in.`,
    )
  return ring(ctx, await ctx.db.$transaction((tx) => sendInvitation(ctx, tx, id)))
}

interface Invitation {
  person: ReturnType<typeof store.personOf>
  link: string
  messageId: string | null
}

async function sendInvitation(ctx: Ctx, tx: Db, id: string): Promise<Invitation> {
  const person = store.personOf(await store.getPerson(tx, id))
  const { link, messageId } = await makeStaffLink(ctx, tx, person, 'invitation')
  return { person, link, messageId }
}

async function ring(ctx: Ctx, { messageId, ...rest }: Invitation) {
  if (messageId) await ctx.enqueue('send-message', { messageId })
  return { ...rest, sent: messageId !== null }
}

/** One link in force per person and purpose: an older one ends. */
async function makeStaffLink(
  ctx: Ctx,
  tx: Db,
  person: { id: string; name: string; email: string },
  purpose: LinkPurpose,
) {
  const now = ctx.now()
  await tx.userToken.updateMany({
    where: { userId: person.id, purpose, usedAt: null },
    data: { usedAt: now },
  })
  const id = newId()
  const expiresAt = new Date(now.getTime() + LINK_HOURS[purpose] * 3_600_000)
  await tx.userToken.create({
    data: {
      id,
      userId: person.id,
      purpose,
      tokenHash: hashToken(staffToken(ctx.env, id)),
      expiresAt,
      createdAt: now,
    },
  })
  const link = staffLink(ctx.env, id)
  if (purpose === 'set-up') return { link, messageId: null }
  const messageId = await planStaffMessage(ctx, tx, {
    kind: purpose,
    to: person,
    dedupeKey: `staff-link-${id}`,
    context: { tokenId: id, hours: LINK_HOURS[purpose] },
    reason: purpose === 'invitation' ? 'Somebody was invited' : 'A new password was asked for',
  })
  return { link, messageId }
}

/** Says nothing about whether that address is known: whoever asks learns only that a letter may come. */
export async function sendStaffLink(ctx: Ctx, email: string, purpose: 'password-reset'): Promise<void> {
  const user = await findUserByEmail(ctx.db, email)
  if (!user || user.disabledAt) return
  const { messageId } = await ctx.db.$transaction((tx) => makeStaffLink(ctx, tx, user, purpose))
  if (messageId) await ctx.enqueue('send-message', { messageId })
}

export async function changePerson(
  ctx: Ctx,
  id: string,
  seen: number,
  change: z.output<typeof personChange>,
) {
  return ctx.db.$transaction(async (tx) => {
    const before = store.personOf(await store.getPerson(tx, id))
    const staysAdmin = (change.role ?? before.role) === 'admin' && !(change.disabled ?? before.disabled)
    if (before.role === 'admin' && !staysAdmin && (await store.countOtherAdmins(tx, id)) === 0) {
      throw invalid({ pointer: '#/role', detail: 'is that of the last admin; make someone else admin first' })
    }
    const { disabled, ...plain } = change
    const stored = await store.updatePerson(tx, id, seen, {
      ...plain,
      ...(disabled !== undefined && { disabledAt: disabled ? ctx.now() : null }),
    })
    const after = store.personOf(await store.getPerson(tx, id))
    if (!stored) throw changedMeanwhile(seen, after)
    // Another role, or none: what is open in a browser somewhere ends now.
    // Whoever may not enter any more keeps nothing of our customers either.
    if (after.role !== before.role || after.disabled)
      await revokeSessions(tx, id, ctx.now(), null, { wipe: after.disabled })
    await audit(ctx, tx, { action: 'person.change', subjectKind: 'user', subjectId: id, before, after })
    return after
  })
}

/**
 * At the first start there is nobody: makes the company's record and an admin without a password, and returns the
 * one-time link to be printed in the log. Null once somebody can log in.
 */
export async function firstStart(ctx: Ctx, email: string): Promise<string | null> {
  return ctx.db.$transaction(async (tx) => {
    // Two processes may start at once; one of them makes the admin.
    await tx.$executeRaw`SELECT pg_advisory_xact_lock(72707370)`
    if ((await tx.user.count({ where: { passwordHash: { not: null } } })) > 0) return null
    await tx.company.upsert({
      where: { id: 1 },
      update: {},
      create: {
        name: 'Your company',
        phone: '555-0100',
        email,
        addressLines: ['Your street', 'Your town'],
        timeZone: 'America/New_York',
      },
    })
    const admin =
      (await tx.user.findFirst({ where: { role: 'admin' } })) ??
      (await tx.user.create({
        data: { id: newId(), email, name: 'Admin', role: 'admin', createdAt: ctx.now() },
      }))
    return (await makeStaffLink(ctx, tx, admin, 'set-up')).link
  })
}
