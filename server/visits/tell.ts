import { VISIT_KINDS } from '../../trade/visits.ts'
import type { Language } from '../../trade/day-in-words.ts'
import type { Ctx } from '../ctx.ts'
import { getCustomer } from '../customers/store.ts'
import type { Db } from '../db.ts'
import { planMessage } from '../messages/service.ts'
import { getCompany } from '../settings/store.ts'
import { type CalendarText, visitCalendar } from './calendar.ts'
import type { VisitView } from './schema.ts'

type Told = 'visit-booked' | 'visit-moved' | 'visit-cancelled' | 'visit-no-access'

const REASONS: Record<Told, string> = {
  'visit-booked': 'A visit was booked.',
  'visit-moved': 'The visit was moved.',
  'visit-cancelled': 'The visit was cancelled.',
  'visit-no-access': 'Nobody let the technician in.',
}

/**
 * Writes what the customer is told of a visit, with its calendar invitation as it stands now, in the transaction of the
 * change. @returns the message's id, to ring for after the commit; null when the customer has no e-mail
 */
export async function tellCustomer(
  ctx: Ctx,
  tx: Db,
  kind: Told,
  visit: VisitView,
  more: Record<string, unknown> = {},
): Promise<string | null> {
  // By then the time is over: there is nothing to take out of a calendar.
  const calendar = kind === 'visit-no-access' ? null : await calendarOf(ctx, tx, visit)
  return planMessage(ctx, tx, {
    kind,
    category: 'booking',
    customerId: visit.customerId,
    propertyId: visit.propertyId,
    visitId: visit.id,
    dedupeKey: `${kind}-${visit.id}-${visit.sequence}`,
    context: {
      visitId: visit.id,
      visitKind: visit.kind,
      sequence: visit.sequence,
      windowStartsAt: visit.windowStartsAt,
      windowEndsAt: visit.windowEndsAt,
      timeZone: visit.timeZone,
      lengthMinutes: visit.lengthMinutes,
      technicianName: visit.technicianName,
      address: addressOf(visit),
      ...(calendar && { calendar: calendar.text, calendarMethod: calendar.method }),
      ...more,
    },
    reason: REASONS[kind],
  })
}

const INVITATION = {
  en: {
    kinds: VISIT_KINDS,
    description: (minutes: number, phone: string) =>
      `Our technician arrives between these times and stays about ${minutes} minutes. To change the visit, call ${phone}.`,
  },
  es: {
    kinds: {
      inspection: 'Inspección',
      repair: 'Reparación',
      'correction-check': 'Comprobación de la reparación',
    },
    description: (minutes: number, phone: string) =>
      `Nuestro técnico llega entre estas horas y se queda unos ${minutes} minutos. Para cambiar la visita, llame al ${phone}.`,
  },
} as const satisfies Record<Language, object>

/** The invitation to a visit as it stands; null when there is nobody to invite by e-mail. */
export async function calendarOf(ctx: Ctx, db: Db, visit: VisitView): Promise<CalendarText | null> {
  if (!visit.customerEmail) return null
  const company = await getCompany(db)
  const { language } = await getCustomer(db, visit.customerId)
  const words = INVITATION[language as Language]
  return visitCalendar({
    id: visit.id,
    sequence: visit.sequence,
    isCancelled: visit.state === 'cancelled',
    windowStartsAt: new Date(visit.windowStartsAt),
    windowEndsAt: new Date(visit.windowEndsAt),
    timeZone: visit.timeZone,
    summary: `${words.kinds[visit.kind]}: ${company.name}`,
    description: words.description(visit.lengthMinutes, company.phone),
    address: addressOf(visit),
    company,
    customer: { name: visit.customerName, email: visit.customerEmail },
    host: new URL(ctx.env.publicUrl).hostname,
    at: ctx.now(),
  })
}

const addressOf = (visit: VisitView) =>
  [visit.line1, visit.line2, visit.city, visit.postcode].filter((part) => part !== '').join(', ')
