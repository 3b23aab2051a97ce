import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { getCustomer } from '../customers/store.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import type { IssueBody, IssuedView, LinkView } from './schema.ts'
import { linkToken, linkUrl } from './service.ts'
import * as store from './store.ts'
import { hashToken } from './tokens.ts'

/** As long as the link of a letter of reminders. */
const OPEN_DAYS = 180
const MS_PER_DAY = 86_400_000

export async function listLinks(ctx: Ctx, customerId: string): Promise<LinkView[]> {
  await getCustomer(ctx.db, customerId)
  return store.listLinks(ctx.db, ctx.now(), customerId)
}

/** A fresh page for somebody who lost theirs, or whose old address fell into other hands. */
export async function issueLink(
  ctx: Ctx,
  customerId: string,
  { id, propertyId }: IssueBody,
): Promise<IssuedView> {
  const customer = await getCustomer(ctx.db, customerId)
  if (customer.archivedAt)
    throw new Problem('wrong-state', `${customer.name} is archived; restore them first.`)
  if (propertyId && !(await store.isParty(ctx.db, customerId, propertyId))) {
    throw invalid({
      pointer: '#/propertyId',
      detail: `${customer.name} has nothing to do with that home today`,
    })
  }
  await ctx.db.$transaction(async (tx) => {
    const isNew = await store.insertLink(tx, {
      id,
      customerId,
      propertyId: propertyId ?? null,
      tokenHash: hashToken(linkToken(ctx.env, id)),
      expiresAt: new Date(ctx.now().getTime() + OPEN_DAYS * MS_PER_DAY),
      now: ctx.now(),
    })
    const change = { action: 'link.issue', subjectKind: 'customer', subjectId: customerId }
    if (isNew) await audit(ctx, tx, { ...change, after: { linkId: id, propertyId: propertyId ?? null } })
  })
  const { customerId: owner, ...link } = await getLink(ctx, id)
  if (owner !== customerId || link.messageId) {
    throw new Problem('already-exists', 'Another link has that id; make a new one.')
  }
  return { ...link, url: linkUrl(ctx.env, id) }
}

/** Its page answers from now on with whom to phone. Twice is once. */
export async function withdrawLink(ctx: Ctx, id: string): Promise<LinkView> {
  const { customerId } = await getLink(ctx, id)
  await withdraw(ctx, customerId, { id })
  const { customerId: _, ...link } = await getLink(ctx, id)
  return link
}

export async function withdrawLinks(
  ctx: Ctx,
  customerId: string,
  propertyId: string | undefined,
): Promise<{ withdrawn: number }> {
  await getCustomer(ctx.db, customerId)
  return { withdrawn: await withdraw(ctx, customerId, { customerId, propertyId }) }
}

type Which = Parameters<typeof store.withdrawLinks>[1]

const withdraw = (ctx: Ctx, customerId: string, which: Which): Promise<number> =>
  ctx.db.$transaction((tx) => withdrawIn(ctx, tx, customerId, which))

/** The same as part of something greater. @returns how many were open until now */
export async function withdrawIn(ctx: Ctx, tx: Db, customerId: string, which: Which): Promise<number> {
  const linkIds = await store.withdrawLinks(tx, which, ctx.now())
  const change = { action: 'link.withdraw', subjectKind: 'customer', subjectId: customerId }
  if (linkIds.length > 0) await audit(ctx, tx, { ...change, after: { linkIds } })
  return linkIds.length
}

/** The link that a letter carries; null for letters without one. */
export function findLinkOf(ctx: Ctx, messageId: string) {
  return store.findLink(ctx.db, ctx.now(), messageId)
}

async function getLink(ctx: Ctx, id: string) {
  const link = await store.findLink(ctx.db, ctx.now(), id)
  if (!link) throw new Problem('not-found', 'There is no such link.')
  return link
}
