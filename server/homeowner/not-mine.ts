import { z } from 'zod'
import { addDays } from '../../trade/dates.ts'
import { audit } from '../audit/store.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { idSchema } from '../ids.ts'
import { findAnswer, insertAnswer, listLeft, type StoredAnswer } from './answer-store.ts'
import type { Thanks } from './answers.ts'
import { acted, atHome, FormFault, type Visitor } from './entry.ts'
import { addressOf } from '../properties/address.ts'
import * as store from './store.ts'

/** So long a wrong click can be taken back, unless the office has looked at it before. */
export const TAKE_BACK_DAYS = 30
const MS_PER_DAY = 86_400_000

export const notMineBody = z.object({
  form: z.string().max(100).optional(),
  id: idSchema,
  property: idSchema,
  why: z.string().max(20).default(''),
})
type NotMineBody = z.output<typeof notMineBody>

const WHYS = ['sold', 'moved', 'never'] as const

/** They sold or left the home: nothing more is written to them about it. What is due there stays for the office, who asks
 *  whoever lives there now. */
export async function notMine(visitor: Visitor, body: NotMineBody): Promise<Thanks> {
  const { ctx, link, words } = visitor
  const known = await findAnswer(ctx.db, body.id, link.customerId)
  if (known) return { thanks: 'not-mine', answerId: known.id }
  const left = (await leftHomes(visitor)).find(({ propertyId }) => propertyId === body.property)
  if (left) return { thanks: 'not-mine', answerId: left.id }
  const { home, ctx: acting } = atHome(visitor, body.property)
  const why = WHYS.find((each) => each === body.why)
  if (!why) throw new FormFault(words.errors.choose)
  const today = ctx.today(home.timeZone)
  const until = addDays(today, TAKE_BACK_DAYS)
  await ctx.db.$transaction(async (tx) => {
    const roles = await store.listRoles(tx, home.id, link.customerId)
    const isVisitBooked = await store.hasVisitAhead(tx, home.id, link.customerId)
    const isNew = await insertAnswer(tx, {
      id: body.id,
      linkId: link.id,
      customerId: link.customerId,
      propertyId: home.id,
      followUpId: null,
      act: 'not-mine',
      said: { thanks: 'not-mine', why, address: addressOf(home), until, isVisitBooked },
      before: { roles },
      at: ctx.now(),
    })
    if (!isNew) return
    await store.endParties(tx, home.id, link.customerId, today)
    await store.cancelOffers(tx, home.id, link.customerId, ctx.now())
    const change = { action: 'property.not-mine', subjectKind: 'property', subjectId: home.id }
    await audit(acting, tx, { ...change, after: { customerId: link.customerId, why } })
    await planFollowUps(acting, tx, home.id)
  })
  await acted(visitor)
  return { thanks: 'not-mine', answerId: body.id }
}

/** Homes that they said they have left, for the way back on their page. */
export function leftHomes({ ctx, link }: Visitor): Promise<StoredAnswer[]> {
  const since = new Date(ctx.now().getTime() - TAKE_BACK_DAYS * MS_PER_DAY)
  return listLeft(ctx.db, link.customerId, link.propertyId, since)
}

/** Everything as it was. Where the office has named somebody else meanwhile, it is for the office. */
export async function restoreParties(visitor: Visitor, tx: Db, answer: StoredAnswer): Promise<void> {
  const { ctx, link } = visitor
  const { propertyId, before } = answer
  const roles = before.roles ?? []
  if (roles.some(({ isContact }) => isContact) && (await store.hasContact(tx, propertyId))) {
    throw new Problem('wrong-state', 'Somebody else is written to about this home by now.')
  }
  for (const role of roles) await store.restoreRole(tx, propertyId, link.customerId, role)
  const change = { action: 'property.mine-after-all', subjectKind: 'property', subjectId: propertyId }
  await audit(ctx, tx, { ...change, after: { customerId: link.customerId } })
  await planFollowUps(ctx, tx, propertyId)
}
