import ical, {
  foldLines,
  ICalAttendeeRole,
  ICalAttendeeStatus,
  ICalCalendarMethod,
  ICalEventStatus,
} from 'ical-generator'
import { Temporal } from 'temporal-polyfill'
import { tzlib_get_ical_block, tzlib_get_timezones } from 'timezones-ical-library'

/** What an invitation says. Instants; the wall times follow from the home's zone. */
export interface InvitedVisit {
  id: string
  /** Rises with each change that the customer is told of: RFC 5546 §2.1.4. */
  sequence: number
  isCancelled: boolean
  /** The arrival window is what is promised, so it is what stands in the calendar. */
  windowStartsAt: Date
  windowEndsAt: Date
  timeZone: string
  summary: string
  description: string
  address: string
  company: { name: string; email: string }
  customer: { name: string; email: string }
  /** Of our public address: with the visit's id it makes a UID that is stable for life. */
  host: string
  /** When this version was made: DTSTAMP. */
  at: Date
}

export interface CalendarText {
  method: 'REQUEST' | 'CANCEL'
  /** A whole VCALENDAR, lines of 75 octets at most, ended by CRLF (RFC 5545 §3.1). */
  text: string
}

/** A visit as a calendar invitation, its change or its end: RFC 5545 and 5546. */
export function visitCalendar(visit: InvitedVisit): CalendarText {
  const method = visit.isCancelled ? 'CANCEL' : 'REQUEST'
  // The generator reads a plain Date by the clock of this process; a zoned time keeps the home's wall time.
  const wallTime = (at: Date) =>
    Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(visit.timeZone)
  const calendar = ical({
    method: ICalCalendarMethod[method],
    prodId: { company: 'Watchlamp', product: 'Visits', language: 'EN' },
    timezone: { name: null, generator: (zone) => timeZoneBlock(zone) },
  })
  calendar.createEvent({
    id: `visit-${visit.id}@${visit.host}`,
    sequence: visit.sequence,
    stamp: visit.at,
    start: wallTime(visit.windowStartsAt),
    end: wallTime(visit.windowEndsAt),
    timezone: visit.timeZone,
    summary: visit.summary,
    description: visit.description,
    location: visit.address,
    organizer: {
      name: parameterText(visit.company.name),
      email: visit.company.email,
      mailto: visit.company.email,
    },
    attendees: [
      {
        name: parameterText(visit.customer.name),
        email: visit.customer.email,
        role: ICalAttendeeRole.REQ,
        status: ICalAttendeeStatus.NEEDSACTION,
        rsvp: false,
      },
    ],
    status: visit.isCancelled ? ICalEventStatus.CANCELLED : ICalEventStatus.CONFIRMED,
  })
  const text = calendar.toString()
  return { method, text: text.endsWith('\r\n') ? text : `${text}\r\n` }
}

/** The same invitation to the address that the customer has by now: calendars pass over one that invites somebody else. */
export function invitationTo(text: string, email: string): string {
  const whole = text.replace(/\r\n[ \t]/g, '')
  const invited = whole.replace(/^(ATTENDEE.*:mailto:).*$/im, (_line, before: string) => `${before}${email}`)
  return invited === whole ? text : foldLines(invited)
}

const LISTED_ZONES = new Set(tzlib_get_timezones())

/**
 * The VTIMEZONE of an IANA zone, under the very name that DTSTART carries: the library files some zones under another,
 * and knows only the listed spelling.
 */
function timeZoneBlock(zone: string): string {
  const canonical = new Intl.DateTimeFormat('en', { timeZone: zone }).resolvedOptions().timeZone
  const listed = [zone, canonical].find((name) => LISTED_ZONES.has(name))
  const block = listed && tzlib_get_ical_block(listed)[0]
  if (!block) throw new RangeError(`no rules for the time zone ${zone}`)
  return block.replace(/^TZID:.*$/m, `TZID:${zone}`)
}

/** A parameter value may hold no double quote and no control character: RFC 5545 §3.2. */
function parameterText(text: string): string {
  return text.replace(/"/g, "'").replace(/\p{Cc}/gu, ' ')
}
