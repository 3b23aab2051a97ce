import { addDays, type Day } from '../../trade/dates.ts'
import type { BaseCtx, Ctx } from '../../server/ctx.ts'
import { changeEstimate, sendEstimate } from '../../server/estimates/changing.ts'
import { decideEstimate, statementOf } from '../../server/estimates/deciding.ts'
import { changeEstimateBody, type EstimateView, newEstimateBody } from '../../server/estimates/schema.ts'
import { draftEstimate } from '../../server/estimates/service.ts'
import { memoryMailer } from '../../server/gateways/mail-memory.ts'
import { newId } from '../../server/ids.ts'
import { sendMessage } from '../../server/messages/sending.ts'
import { instantAt } from '../../server/time.ts'
import { KESTREL_ROW } from './company.ts'

/** Days before today on which each was sent; null is still a draft. The second was accepted the day after. */
const SENT_DAYS = [16, 10, 10, 3, 1, null]

/** Offers for what was found, at homes whose report the owners have read. */
export async function demoEstimates(
  base: BaseCtx,
  officeAt: (instant: Date) => Promise<Ctx>,
  zone: string,
  today: Day,
): Promise<void> {
  const homes = await base.db.property.findMany({
    where: {
      findings: { some: { state: 'open', severity: 'repair', inspection: { state: 'issued' } } },
      parties: { some: { isContact: true, until: null, customer: { email: { not: null } } } },
    },
    orderBy: [{ lastInspectedOn: 'desc' }, { id: 'asc' }],
    take: SENT_DAYS.length,
    select: { id: true },
  })
  for (const [at, { id: propertyId }] of homes.entries()) {
    const daysAgo = SENT_DAYS[at] ?? 0
    const then = instantAt(addDays(today, -daysAgo), daysAgo === 0 ? '00:05' : '11:00', zone)
    const office = await officeAt(then)
    const draft = await priced(office, await draftEstimate(office, newEstimateBody.parse({ propertyId })))
    if (daysAgo === 0 || draft.lines.length === 0) continue
    const sent = await sendEstimate(office, draft.id, draft.version)
    const { id } = await base.db.message.findFirstOrThrow({
      where: { propertyId, kind: 'estimate-sent' },
      select: { id: true },
    })
    await sendMessage(office, memoryMailer(), id)
    if (at === 1) await accept(await officeAt(instantAt(addDays(today, 1 - daysAgo), '19:10', zone)), sent)
  }
}

/** What has no price yet gets one by the hour, and a surge protector is offered to everybody as an option. */
async function priced(office: Ctx, draft: EstimateView): Promise<EstimateView> {
  const prices = await office.db.priceItem.findMany({ where: { code: { in: ['WRK-10', 'SRG-10'] } } })
  const hour = prices.find(({ code }) => code === 'WRK-10')!
  const protector = prices.find(({ code }) => code === 'SRG-10')!
  const lines = draft.lines.map(({ finding, priceItem, decision: _, ...line }) => ({
    ...line,
    findingId: finding?.id ?? null,
    ...(priceItem
      ? { priceItemId: priceItem.id }
      : { priceItemId: hour.id, priceCents: hour.priceCents, quantityThousandths: 1500 }),
  }))
  const { priceCents, taxBasisPoints, name } = protector
  const option = { id: newId(), option: 'Surge protection', description: name, priceItemId: protector.id }
  const body = { lines: [...lines, { ...option, priceCents, taxBasisPoints }] }
  return changeEstimate(office, draft.id, draft.version, changeEstimateBody.parse(body))
}

/** As its page does it: without the option, under the words that are shown there. */
async function accept(ctx: Ctx, estimate: EstimateView): Promise<void> {
  const { customerId, propertyId, customerName: name } = estimate
  const actor = { kind: 'homeowner', linkId: newId(), customerId, propertyId } as const
  const choice = { state: 'accepted' as const, chosen: [] }
  const statement = statementOf(estimate, choice, KESTREL_ROW.name, 'en')
  await ctx.db.$transaction((tx) =>
    decideEstimate({ ...ctx, actor }, tx, estimate, { ...choice, name, statement }),
  )
}
