import { z } from 'zod'
import type { Day } from '../../trade/dates.ts'
import { isOffice, maySeeVisit } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import { everyPage } from '../csv.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { idSchema } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { listTechnicians } from '../people/store.ts'
import { checkMaySeeHome } from '../properties/scope.ts'
import { getProperty } from '../properties/store.ts'
import { dayBounds } from '../time.ts'
import * as days from './day-store.ts'
import { daysFrom, freeWindows } from './free-windows.ts'
import { usualLength } from './length.ts'
import type { FreeWindowsQuery, FreeWindowsView, VisitFilters, VisitRow, VisitView } from './schema.ts'
import * as store from './store.ts'
import { calendarOf } from './tell.ts'

interface ListQuery extends VisitFilters {
  order: 'earliest' | 'latest'
  cursor?: string | undefined
  limit: number
}

const sortValues = (row: VisitRow): [string, string] => [row.startsAt, row.id]

/** In order of time. When nothing contains what was typed, one page of what it might have meant, best first. */
export async function listVisits(
  ctx: Ctx,
  { cursor, limit, order, ...filters }: ListQuery,
): Promise<Page<VisitRow>> {
  const after = decodeCursor(cursor, z.tuple([z.iso.datetime(), idSchema]))
  const scoped = { ...filters, onlyOf: ownOnly(ctx) }
  const rows = await store.listVisits(ctx.db, scoped, order, after, limit + 1)
  if (rows.length > 0 || !filters.q || after) return toPage(rows, limit, sortValues)
  return { items: await store.listResembling(ctx.db, { ...scoped, q: filters.q }, limit), next: null }
}

/** The same list whole, page by page. */
export function everyVisit(ctx: Ctx, filters: VisitFilters): AsyncGenerator<VisitRow[]> {
  const scoped = { ...filters, onlyOf: ownOnly(ctx) }
  return everyPage(
    (after: [string, string] | null, limit) => store.listVisits(ctx.db, scoped, 'earliest', after, limit),
    sortValues,
  )
}

function ownOnly(ctx: Ctx): string | undefined {
  const user = theUser(ctx)
  return isOffice(user) ? undefined : user.id
}

export async function readVisit(ctx: Ctx, id: string): Promise<VisitView> {
  const visit = await store.getVisit(ctx.db, id)
  if (!maySeeVisit(theUser(ctx), visit)) throw new Problem('not-allowed', 'This is not your visit.')
  return visit
}

/** The invitation as it stands, to be sent by hand or put into one's own calendar. */
export async function readCalendar(ctx: Ctx, id: string) {
  const calendar = await calendarOf(ctx, ctx.db, await readVisit(ctx, id))
  if (!calendar)
    throw new Problem('wrong-state', 'The customer has no e-mail address to invite; add one first.')
  return calendar
}

/** One day of the whole company, as JSON text. */
export async function readDay(ctx: Ctx, day: Day) {
  return { json: await days.readDay(ctx.db, day) }
}

/** The day of whoever asks, as JSON text. */
export async function readMyDay(ctx: Ctx, day: Day) {
  return { json: await days.readMyDay(ctx.db, theUser(ctx).id, day) }
}

/** When somebody could come to a home, from the bookings of all technicians. */
export async function findFreeWindows(ctx: Ctx, query: FreeWindowsQuery): Promise<FreeWindowsView> {
  const { id, timeZone } = await getProperty(ctx.db, query.propertyId)
  await checkMaySeeHome(ctx, ctx.db, id)
  const asked = daysFrom(query.from, query.days)
  const range = {
    from: dayBounds(asked[0]!, timeZone).from,
    to: dayBounds(asked[asked.length - 1]!, timeZone).to,
  }
  const [technicians, bookings, lengthMinutes] = await Promise.all([
    listTechnicians(ctx.db),
    store.listBookings(ctx.db, range),
    query.length ?? usualLength(ctx.db, ctx.today(timeZone), id, 'inspection'),
  ])
  const windows = freeWindows({
    days: asked,
    zone: timeZone,
    lengthMinutes,
    technicians,
    bookings,
    now: ctx.now(),
  })
  return { timeZone, lengthMinutes, windows }
}
