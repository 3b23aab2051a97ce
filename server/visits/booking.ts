import { MOVABLE_STATES, VISIT_STATES } from '../../trade/visits.ts'
import { momentInWords } from '../times-in-words.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { getCustomer } from '../customers/store.ts'
import { type Db, refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { settleBooked } from '../estimates/findings-store.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { newId } from '../ids.ts'
import { findProperty } from '../properties/store.ts'
import { findRequest, moveRequest } from '../requests/store.ts'
import { changedMeanwhile } from '../versions.ts'
import { instantsOf, technicianBusy } from './appointment.ts'
import { usualLength } from './length.ts'
import type { BookVisitBody, ChangeVisitBody, MoveVisitBody, VisitView } from './schema.ts'
import * as store from './store.ts'
import { tellCustomer } from './tell.ts'

/** Books a visit and tells the customer. The same id again is the same visit, left as it is. */
export async function bookVisit(ctx: Ctx, body: BookVisitBody): Promise<VisitView> {
  const id = body.id ?? newId()
  const known = await store.findVisit(ctx.db, id)
  if (known) return known
  return guarded(ctx, id, (tx, wish) => bookIn(ctx, tx, id, body, wish))
}

/** The same in the caller's transaction, which rings for the message after its commit. `wish` hears what is asked for. */
export async function bookIn(
  ctx: Ctx,
  tx: Db,
  id: string,
  body: BookVisitBody,
  wish: (appointment: store.Appointment) => store.Appointment,
): Promise<{ after: VisitView; message: string | null }> {
  const { customerId, propertyId, kind } = await subjectOf(tx, body)
  const property = await findProperty(tx, propertyId)
  if (!property) throw invalid({ pointer: '#/propertyId', detail: 'there is no such home' })
  if (property.archivedAt) {
    throw new Problem('wrong-state', `${property.line1} is archived; restore it first.`)
  }
  await checkCustomer(tx, customerId)
  const appointment = wish({
    ...instantsOf(body, property.timeZone, ctx.now()),
    lengthMinutes:
      body.lengthMinutes ?? (await usualLength(tx, ctx.today(property.timeZone), propertyId, kind)),
    technicianId: (await hold(tx, body.technicianId)).id,
  })
  const requestId = body.requestId ?? null
  const visit = { id, propertyId, customerId, requestId, kind, note: body.note, ...appointment }
  await store.insertVisit(tx, visit, ctx.now())
  if (requestId && !(await moveRequest(tx, requestId, 'waiting', 'booked', ctx.now()))) {
    throw new Problem('wrong-state', 'The request was booked or withdrawn meanwhile.')
  }
  const after = await store.getVisit(tx, id)
  await audit(ctx, tx, { action: 'visit.book', subjectKind: 'visit', subjectId: id, after })
  await settleBooked(tx, propertyId, ctx.now())
  await planFollowUps(ctx, tx, propertyId)
  return { after, message: await tellCustomer(ctx, tx, 'visit-booked', after) }
}

/** Another time, and perhaps another technician. The customer is told when what they were promised changes. */
export async function moveVisit(ctx: Ctx, id: string, seen: number, body: MoveVisitBody): Promise<VisitView> {
  return rebook(ctx, id, seen, 'visit.move', (before) => ({
    ...instantsOf(body, before.timeZone, ctx.now()),
    lengthMinutes: body.lengthMinutes ?? before.lengthMinutes,
    technicianId: body.technicianId ?? before.technicianId,
  }))
}

/** Another technician at the same time. */
export async function reassignVisit(
  ctx: Ctx,
  id: string,
  seen: number,
  technicianId: string,
): Promise<VisitView> {
  return rebook(ctx, id, seen, 'visit.reassign', (before) => ({ ...appointmentOf(before), technicianId }))
}

/** What the customer was not promised: note, kind, length. */
export async function changeVisit(
  ctx: Ctx,
  id: string,
  seen: number,
  { lengthMinutes, ...plain }: ChangeVisitBody,
): Promise<VisitView> {
  if (lengthMinutes === undefined) {
    return ctx.db.$transaction(async (tx) => {
      const before = await seenVisit(tx, id, seen)
      const states = Object.keys(VISIT_STATES) as VisitView['state'][]
      return (await write(ctx, tx, before, states, 'visit.change', plain)).after
    })
  }
  const longer = (before: VisitView) => ({ ...appointmentOf(before), lengthMinutes })
  return rebook(ctx, id, seen, 'visit.change', longer, plain)
}

async function rebook(
  ctx: Ctx,
  id: string,
  seen: number,
  action: string,
  appointmentFor: (before: VisitView) => store.Appointment,
  plain: Omit<ChangeVisitBody, 'lengthMinutes'> = {},
): Promise<VisitView> {
  return guarded(ctx, id, async (tx, wish) => {
    const before = await seenVisit(tx, id, seen)
    if (!MOVABLE_STATES.includes(before.state)) {
      throw new Problem(
        'wrong-state',
        `The visit is ${VISIT_STATES[before.state].toLowerCase()}; book a new one.`,
      )
    }
    const to = wish(appointmentFor(before))
    const stays = to.technicianId === before.technicianId
    if (!stays) await hold(tx, to.technicianId)
    const isTold =
      to.windowStartsAt.toISOString() !== before.windowStartsAt ||
      to.windowEndsAt.toISOString() !== before.windowEndsAt
    const { after } = await write(ctx, tx, before, MOVABLE_STATES, action, {
      ...plain,
      ...to,
      endsAt: store.endOf(to),
      ...(isTold && { sequence: before.sequence + 1, confirmedAt: null }),
    })
    const previous = { previousStartsAt: before.windowStartsAt, previousEndsAt: before.windowEndsAt }
    return { after, message: isTold ? await tellCustomer(ctx, tx, 'visit-moved', after, previous) : null }
  })
}

async function write(
  ctx: Ctx,
  tx: Db,
  before: VisitView,
  states: readonly VisitView['state'][],
  action: string,
  change: Parameters<typeof store.updateVisit>[3],
) {
  const guard = { version: before.version, states }
  const stored = await store.updateVisit(tx, before.id, guard, { ...change, updatedAt: ctx.now() })
  const after = await store.getVisit(tx, before.id)
  if (!stored) throw changedMeanwhile(before.version, after)
  await audit(ctx, tx, { action, subjectKind: 'visit', subjectId: before.id, before, after })
  if (after.kind !== before.kind) await settleBooked(tx, after.propertyId, ctx.now())
  await planFollowUps(ctx, tx, after.propertyId)
  return { after }
}

async function seenVisit(tx: Db, id: string, seen: number): Promise<VisitView> {
  const visit = await store.getVisit(tx, id)
  if (visit.version !== seen) throw changedMeanwhile(seen, visit)
  return visit
}

/** Runs a booking: when the database refuses it because the technician is elsewhere, says where. Rings after the commit. */
async function guarded(
  ctx: Ctx,
  id: string,
  act: (
    tx: Db,
    wish: (appointment: store.Appointment) => store.Appointment,
  ) => Promise<{ after: VisitView; message: string | null }>,
): Promise<VisitView> {
  let wished: store.Appointment | null = null
  const wish = (appointment: store.Appointment) => (wished = appointment)
  try {
    const { after, message } = await ctx.db.$transaction((tx) => act(tx, wish))
    if (message) await ctx.enqueue('send-message', { messageId: message })
    return after
  } catch (error) {
    if (wished && refusedBy(error, 'visit_no_overlap')) throw await technicianBusy(ctx, wished, id)
    const known = refusedBy(error, 'visit_pkey') ? await store.findVisit(ctx.db, id) : null
    if (known) return known
    throw error
  }
}

const appointmentOf = (visit: VisitView): store.Appointment => ({
  windowStartsAt: new Date(visit.windowStartsAt),
  windowEndsAt: new Date(visit.windowEndsAt),
  startsAt: new Date(visit.startsAt),
  lengthMinutes: visit.lengthMinutes,
  technicianId: visit.technicianId,
})

async function hold(tx: Db, technicianId: string) {
  const technician = await store.holdTechnician(tx, technicianId)
  if (technician) return technician
  throw invalid({ pointer: '#/technicianId', detail: 'there is no technician of that id at work' })
}

async function checkCustomer(tx: Db, id: string): Promise<void> {
  const customer = await getCustomer(tx, id).catch(() => {
    throw invalid({ pointer: '#/customerId', detail: 'there is no such customer' })
  })
  if (customer.archivedAt)
    throw new Problem('wrong-state', `${customer.name} is archived; restore them first.`)
}

/** Whose visit, where and what for: as said, else as the request has it. */
async function subjectOf(tx: Db, body: BookVisitBody) {
  if (!body.requestId) {
    return { customerId: body.customerId!, propertyId: body.propertyId!, kind: body.kind ?? 'inspection' }
  }
  const request = await findRequest(tx, body.requestId)
  if (!request) throw invalid({ pointer: '#/requestId', detail: 'there is no such request' })
  if (request.state !== 'waiting') throw new Problem('wrong-state', await whyNotWaiting(tx, request))
  if (body.propertyId && body.propertyId !== request.propertyId) {
    throw invalid({ pointer: '#/propertyId', detail: `the request is for ${request.line1}` })
  }
  return {
    customerId: body.customerId ?? request.customerId,
    propertyId: request.propertyId,
    kind: body.kind ?? request.kind,
  }
}

async function whyNotWaiting(tx: Db, request: { state: string; visitId: string | null }): Promise<string> {
  const visit = request.visitId ? await store.findVisit(tx, request.visitId) : null
  if (!visit) return 'The request is no longer waiting.'
  const [at, zone] = [new Date(visit.startsAt), visit.timeZone]
  return `A visit is booked for it: ${visit.technicianName} on ${momentInWords(at, zone)}.`
}
