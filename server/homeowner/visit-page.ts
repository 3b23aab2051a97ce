import { z } from 'zod'
import type { VisitKind, VisitState } from '../../trade/visits.ts'
import { audit } from '../audit/store.ts'
import { Problem } from '../errors.ts'
import { idSchema } from '../ids.ts'
import { dayInZone } from '../time.ts'
import { windowInWords } from '../times-in-words.ts'
import { askForm, askForVisit, type Typed, type Wish } from './ask.ts'
import { acted, atHome, FormFault, formId, type Visitor } from './entry.ts'
import { addressOf } from '../properties/address.ts'
import { findVisitOfLink, setConfirmed } from './store.ts'
import { fill, type ThanksFor } from './words.ts'

async function visitOf({ ctx, link }: Visitor) {
  const visit = link.subjectId ? await findVisitOfLink(ctx.db, link.subjectId, link.customerId) : null
  if (!visit) throw new Problem('not-found', 'There is no such visit.')
  return visit
}

export async function visitFacts(visitor: Visitor, fault: string | null = null, typed: Typed | null = null) {
  const { words, link, homes } = visitor
  const visit = await visitOf(visitor)
  const { timeZone } = visit.property
  const window = windowInWords(visit.windowStartsAt, visit.windowEndsAt, timeZone, link.language)
  const state = visit.state as VisitState
  const mayChange = state === 'booked' && visit.windowStartsAt > visitor.ctx.now()
  const mayAsk = homes.some(({ id }) => id === visit.propertyId)
  return {
    title: words.visitTitle,
    fault,
    stateWords: words.visitStates[state],
    visit: { day: window.day, address: addressOf(visit.property), technician: visit.technician.name },
    arrival: fill(words.between, window),
    minutes: fill(words.aboutMinutes, { minutes: visit.lengthMinutes }),
    mayChange: mayChange && mayAsk,
    isConfirmed: visit.confirmedAt !== null,
    mayAsk,
    cancelId: formId(),
    ask: mayAsk ? await askForm(visitor, visit.propertyId, [], typed) : null,
  }
}

export const visitBody = z.object({
  form: z.string().max(100).optional(),
  act: z.enum(['confirm', 'cancel']),
  id: idSchema.optional(),
  reason: z.string().trim().max(300).default(''),
})

/** Confirming is noted; a wish to cancel goes to the office as a request, and the visit stays until they have spoken. */
export async function answerVisit(visitor: Visitor, body: z.output<typeof visitBody>): Promise<ThanksFor> {
  const { ctx, words, link } = visitor
  const visit = await visitOf(visitor)
  if (visit.state !== 'booked' || visit.windowStartsAt <= ctx.now()) throw new FormFault(words.errors.over)
  if (body.act === 'confirm') {
    const change = { action: 'visit.confirmed-by-customer', subjectKind: 'visit', subjectId: visit.id }
    await ctx.db.$transaction(async (tx) => {
      await setConfirmed(tx, visit.id, ctx.now())
      await audit(ctx, tx, { ...change, after: { linkId: link.id } })
    })
    await acted(visitor)
    return 'confirmed'
  }
  const { day } = windowInWords(visit.windowStartsAt, visit.windowEndsAt, visit.property.timeZone, 'en')
  await askForVisit(
    visitor,
    {
      id: body.id ?? formId(),
      property: visit.propertyId,
      about: [],
      window: '',
      days: '',
      note: body.reason,
    },
    { ...wishAbout(visit), act: 'cancel', reason: `Asks to cancel the visit on ${day}` },
  )
  return 'cancelling'
}

const wishAbout = (visit: { kind: string; windowStartsAt: Date; property: { timeZone: string } }) => ({
  kind: visit.kind as VisitKind,
  visitOn: dayInZone(visit.windowStartsAt, visit.property.timeZone),
})

/** What a request that is sent from the page of a visit asks for: to move it, or to come again. */
export async function wishOf(visitor: Visitor): Promise<{ wish: Wish; thanks: ThanksFor }> {
  const visit = await visitOf(visitor)
  atHome(visitor, visit.propertyId)
  const { day } = windowInWords(visit.windowStartsAt, visit.windowEndsAt, visit.property.timeZone, 'en')
  const about = wishAbout(visit)
  if (visit.state === 'booked')
    return { wish: { ...about, act: 'move', reason: `Asks to move the visit on ${day}` }, thanks: 'moving' }
  const reason = `Asks for another visit instead of the one on ${day}`
  return { wish: { ...about, act: 'again', reason }, thanks: 'requested' }
}
