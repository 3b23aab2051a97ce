import { withoutFullStop } from '../../trade/follow-ups/words.ts'
import type { Day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { momentInWords } from '../times-in-words.ts'
import type { VisitKind } from '../../trade/visits.ts'
import type { Ctx } from '../ctx.ts'
import { refusedBy } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { dayBounds } from '../time.ts'
import { technicianBusy } from '../visits/appointment.ts'
import { bookIn } from '../visits/booking.ts'
import { usualLength } from '../visits/length.ts'
import { type Appointment, findVisit, listBookings } from '../visits/store.ts'
import { findTechnician, listStops, listVisitsAhead, type Stop } from './booking-store.ts'
import type {
  BookingPlan,
  BookingPlanBody,
  BulkBooked,
  BulkBookingBody,
  PlannedStop,
} from './booking-schema.ts'
import { placeInOrder } from './day-plan.ts'
import { groupBy } from './group.ts'
import { getPolicy } from './policy.ts'
import type { FollowUpSummary } from './schema.ts'
import { summaryOf } from './words.ts'
import { listWorklistRows } from './worklist-store.ts'

/** Arrival windows for everything chosen, one technician and day: a proposal, of which nothing is kept. */
export async function planBooking(ctx: Ctx, body: BookingPlanBody): Promise<BookingPlan> {
  const { technicianId, day, from } = body
  const technician = await findTechnician(ctx.db, technicianId)
  if (!technician)
    throw invalid({ pointer: '#/technicianId', detail: 'there is no technician of that id at work' })
  const { open, left } = await chosen(ctx, body.ids)
  const byHome = groupBy(open, ({ propertyId }) => propertyId)
  const homes = await listStops(ctx.db, [...byHome.keys()])
  const visits = groupBy(await listVisitsAhead(ctx.db, [...byHome.keys()]), ({ propertyId }) => propertyId)
  const stops: { home: Stop; stop: PlannedStop }[] = []
  for (const home of homes) {
    const stop = await stopAt(ctx, home, byHome.get(home.id)!)
    const [visit] = visits.get(home.id) ?? []
    if (visit && !stop.conflict) stop.conflict = visitAhead(visit, home)
    stops.push({ home, stop })
  }
  const free = stops.filter(({ stop }) => stop.conflict === null)
  const zone = homes[0]?.timeZone ?? 'UTC'
  const bookings = await listBookings(ctx.db, dayBounds(day, zone))
  const places = placeInOrder(
    free.map(({ home, stop }) => ({ ...home, lengthMinutes: stop.lengthMinutes })),
    { day, from, technician, bookings, now: ctx.now() },
  )
  free.forEach(({ stop }, n) => {
    const place = places[n]
    if (place) Object.assign(stop, place)
    else stop.conflict = noRoom(technician.name, stop.lengthMinutes, day)
  })
  return { technicianName: technician.name, stops: stops.map(({ stop }) => stop), left }
}

async function chosen(ctx: Ctx, ids: readonly string[]) {
  const policy = await getPolicy(ctx.db)
  const rows = new Map(
    (await listWorklistRows(ctx.db, ctx.now(), ids)).map((row) => [row.id, summaryOf(row, policy)]),
  )
  const left: BookingPlan['left'] = []
  const open = [...new Set(ids)].flatMap((id) => {
    const row = rows.get(id)
    if (row && !row.closedAt) return [row]
    left.push({ id, why: row ? 'It has ended already.' : 'There is no such follow-up.' })
    return []
  })
  return { open, left }
}

async function stopAt(ctx: Ctx, home: Stop, due: readonly FollowUpSummary[]): Promise<PlannedStop> {
  const isRepair = due.some(({ subjectKind }) => subjectKind === 'finding' || subjectKind === 'estimate')
  const kind: VisitKind = isRepair ? 'repair' : 'inspection'
  const to = due.find(({ customerId }) => customerId !== null)
  return {
    propertyId: home.id,
    line1: home.line1,
    city: home.city,
    customerId: to?.customerId ?? null,
    customerName: to?.customerName ?? null,
    customerPhone: to?.customerPhone ?? null,
    hasEmail: Boolean(to?.customerEmail),
    kind,
    lengthMinutes: await usualLength(ctx.db, ctx.today(home.timeZone), home.id, kind),
    sees: due.map(({ kindTitle, subject }) => `${kindTitle}: ${subject}`),
    requestId: due.find(({ state, requestId }) => state === 'asked' && requestId)?.requestId ?? null,
    windowStart: null,
    windowEnd: null,
    startsAt: null,
    conflict: home.archived
      ? 'The home is archived; restore it first.'
      : to
        ? null
        : 'Nobody is named for this home: enter who lives there first.',
  }
}

const visitAhead = ({ startsAt, technician }: { startsAt: Date; technician: string }, { timeZone }: Stop) =>
  `${technician} goes there on ${momentInWords(startsAt, timeZone)} already; let that visit see to it.`

function noRoom(name: string, minutes: number, day: Day): string {
  const weekday = new Date(`${day}T00:00:00Z`).getUTCDay()
  if (weekday === 0 || weekday === 6) return 'Saturdays and Sundays are booked by hand, one visit at a time.'
  return `${name} has no ${minutes} minutes left for it on ${dayInWords(day, 'en')}; choose another day or technician.`
}

/** Books all of them in one transaction, or none. The same call again finds them booked. */
export async function bookMany(ctx: Ctx, body: BulkBookingBody): Promise<BulkBooked> {
  const { technicianId, day } = body
  let at: { stop: BulkBookingBody['visits'][number]; wished: Appointment | null } | null = null
  try {
    const booked = await ctx.db.$transaction(
      async (tx) => {
        const done = []
        for (const stop of body.visits) {
          at = { stop, wished: null }
          const known = await findVisit(tx, stop.id)
          if (known) {
            done.push({ after: known, message: null, isNew: false })
            continue
          }
          if ((await listVisitsAhead(tx, [stop.propertyId])).length > 0) {
            throw new Problem('wrong-state', 'A visit was booked there meanwhile.')
          }
          const { requestId, ...plain } = stop
          const wish = (appointment: Appointment) => (at!.wished = appointment)
          const visit = { ...plain, technicianId, day, ...(requestId && { requestId }) }
          done.push({ ...(await bookIn(ctx, tx, stop.id, visit, wish)), isNew: true })
        }
        return done
      },
      { timeout: 30_000 },
    )
    for (const { message } of booked) if (message) await ctx.enqueue('send-message', { messageId: message })
    return {
      visits: booked.map(({ after: { id, line1, windowStartsAt } }) => ({ id, line1, windowStartsAt })),
      toPhone: booked
        .filter(({ message, isNew }) => isNew && !message)
        .map(({ after }) => `${after.customerName}, ${after.line1}`),
    }
  } catch (error) {
    throw await explained(ctx, at, error)
  }
}

/** Which home it failed at, and that nothing is half booked. */
async function explained(
  ctx: Ctx,
  at: { stop: BulkBookingBody['visits'][number]; wished: Appointment | null } | null,
  error: unknown,
): Promise<unknown> {
  if (!at) return error
  const { stop, wished } = at
  const problem =
    wished && refusedBy(error, 'visit_no_overlap') ? await technicianBusy(ctx, wished, stop.id) : error
  if (!(problem instanceof Problem)) return problem
  const [home] = await listStops(ctx.db, [stop.propertyId])
  const { propertyId } = stop
  return new Problem(
    problem.code,
    `${home?.line1 ?? 'A home'}: ${withoutFullStop(problem.message)}. Nothing was booked.`,
    {
      ...problem.more,
      propertyId,
    },
  )
}
