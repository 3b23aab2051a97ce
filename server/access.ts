import type { Role } from '../trade/permissions.ts'

/**
 * Which role may call which route: the one table. A route without a line here stops the start. `anyone` needs no
 * log-in; `link` is a homeowner's private link, checked by its token. What a role may do to one record (a technician's
 * own visits, say) is asked in the services, by trade/permissions.ts.
 */
export type Access = readonly Role[] | 'anyone' | 'link'

const everyone: readonly Role[] = ['admin', 'office', 'technician']
const office: readonly Role[] = ['admin', 'office']
const admin: readonly Role[] = ['admin']

export const ROUTE_ACCESS: Readonly<Record<string, Access>> = {
  // accounts
  'POST /api/v1/log-in': 'anyone',
  'POST /api/v1/log-out': everyone,
  'GET /api/v1/me': everyone,
  'POST /api/v1/me/password': everyone,
  'POST /api/v1/forgotten-password': 'anyone',
  'GET /api/v1/staff-link': 'anyone',
  'POST /api/v1/staff-link': 'anyone',
  'GET /api/v1/me/sessions': everyone,
  'DELETE /api/v1/me/sessions/:id': everyone,
  'GET /api/v1/me/tokens': everyone,
  'POST /api/v1/me/tokens': everyone,
  'DELETE /api/v1/me/tokens/:id': everyone,
  // people
  'GET /api/v1/people': admin,
  'GET /api/v1/technicians': office,
  'POST /api/v1/people': admin,
  'POST /api/v1/people/:id/invitation': admin,
  'PATCH /api/v1/people/:id': admin,
  // settings
  'GET /api/v1/company': everyone,
  'PATCH /api/v1/company': admin,
  'GET /api/v1/jurisdictions': everyone,
  'POST /api/v1/jurisdictions': admin,
  'GET /api/v1/jurisdictions/:id': everyone,
  'PATCH /api/v1/jurisdictions/:id': admin,
  'GET /api/v1/audit': admin,
  // inspections
  'GET /api/v1/inspections': everyone,
  'GET /api/v1/inspections/export.csv': everyone,
  'POST /api/v1/inspections': everyone,
  'GET /api/v1/inspections/:id': everyone,
  'GET /api/v1/inspections/:id/verdicts': everyone,
  'POST /api/v1/inspections/:id/answers': everyone,
  'POST /api/v1/inspections/:id/complete': everyone,
  'POST /api/v1/inspections/:id/reopen': office,
  'GET /api/v1/findings/:id': everyone,
  'PATCH /api/v1/findings/:id': everyone,
  // photos
  'PUT /api/v1/inspections/:id/photos/:photoId': everyone,
  'GET /api/v1/photos/:id': everyone,
  'GET /api/v1/photos/:id/picture': everyone,
  'GET /api/v1/photos/:id/thumbnail': everyone,
  'PATCH /api/v1/photos/:id': everyone,
  'DELETE /api/v1/photos/:id': everyone,
  // reports
  'GET /api/v1/inspections/:id/report-preview': everyone,
  'POST /api/v1/inspections/:id/issue': everyone,
  'GET /api/v1/inspections/:id/reports': everyone,
  'GET /api/v1/reports/:id': everyone,
  'GET /api/v1/reports/:id/pdf': everyone,
  // field
  'GET /api/v1/field/pack': everyone,
  'POST /api/v1/field/operations': everyone,
  // Checked by the cookie of the ended session.
  'POST /api/v1/field/wiped': 'anyone',
  // events
  'GET /api/v1/events': everyone,
  // customers
  'GET /api/v1/customers': office,
  'GET /api/v1/customers/export.csv': office,
  'GET /api/v1/customers/duplicates': office,
  'GET /api/v1/customers/:id': office,
  'POST /api/v1/customers': office,
  'PATCH /api/v1/customers/:id': office,
  'POST /api/v1/customers/:id/archive': office,
  'POST /api/v1/customers/:id/restore': office,
  'GET /api/v1/customers/:id/links': office,
  'POST /api/v1/customers/:id/links': office,
  'POST /api/v1/customers/:id/links/withdraw': office,
  'POST /api/v1/links/:id/withdraw': office,
  // homes
  'GET /api/v1/properties': office,
  'GET /api/v1/properties/export.csv': office,
  'GET /api/v1/properties/:id': everyone,
  'POST /api/v1/properties': office,
  'PATCH /api/v1/properties/:id': office,
  'POST /api/v1/properties/:id/archive': office,
  'POST /api/v1/properties/:id/restore': office,
  'PUT /api/v1/properties/:id/parties': office,
  'POST /api/v1/properties/:id/spaces': everyone,
  'PATCH /api/v1/spaces/:id': everyone,
  'DELETE /api/v1/spaces/:id': everyone,
  'POST /api/v1/properties/:id/equipment': everyone,
  'PATCH /api/v1/equipment/:id': everyone,
  'POST /api/v1/equipment/:id/retire': everyone,
  'POST /api/v1/equipment/:id/replace': everyone,
  // requests
  'GET /api/v1/requests': office,
  'GET /api/v1/requests/:id': office,
  'POST /api/v1/requests': office,
  'PATCH /api/v1/requests/:id': office,
  'POST /api/v1/requests/:id/withdraw': office,
  // visits
  'GET /api/v1/visits': everyone,
  'GET /api/v1/visits/export.csv': everyone,
  'GET /api/v1/visits/day': office,
  'GET /api/v1/my-day': everyone,
  'GET /api/v1/visits/free-windows': office,
  'GET /api/v1/visits/:id': everyone,
  'GET /api/v1/visits/:id/calendar.ics': everyone,
  'POST /api/v1/visits': office,
  'PATCH /api/v1/visits/:id': office,
  'POST /api/v1/visits/:id/move': office,
  'POST /api/v1/visits/:id/reassign': office,
  'POST /api/v1/visits/:id/cancel': office,
  'POST /api/v1/visits/:id/no-access': everyone,
  'POST /api/v1/visits/:id/start-travel': everyone,
  'POST /api/v1/visits/:id/arrive': everyone,
  'POST /api/v1/visits/:id/finish': everyone,
  // search
  'GET /api/v1/search': everyone,
  // follow-ups
  'GET /api/v1/follow-ups': office,
  'GET /api/v1/follow-ups/export.csv': office,
  'GET /api/v1/follow-ups/numbers': office,
  'GET /api/v1/follow-ups/dangers': office,
  'GET /api/v1/follow-ups/groups': office,
  'POST /api/v1/follow-ups/bulk': office,
  'POST /api/v1/follow-ups/booking-plan': office,
  'POST /api/v1/follow-ups/bulk-booking': office,
  'POST /api/v1/follow-ups/surge-event': office,
  'GET /api/v1/follow-ups/:id': office,
  'GET /api/v1/follow-ups/:id/booking': office,
  'POST /api/v1/follow-ups/:id/dismiss': office,
  'POST /api/v1/follow-ups/:id/done': office,
  'POST /api/v1/follow-ups/:id/reopen': office,
  'POST /api/v1/follow-ups/:id/snooze': office,
  'POST /api/v1/follow-ups/:id/call': office,
  'GET /api/v1/homeowner-answers': office,
  'POST /api/v1/homeowner-answers/:id/check': office,
  'GET /api/v1/follow-up-policy': office,
  'POST /api/v1/follow-up-policy/preview': admin,
  'PUT /api/v1/follow-up-policy': admin,
  // messages
  'GET /api/v1/messages': office,
  'GET /api/v1/messages/export.csv': office,
  'GET /api/v1/messages/numbers': office,
  'GET /api/v1/messages/templates': office,
  'GET /api/v1/messages/templates/:kind': office,
  'GET /api/v1/messages/unreachable': office,
  'GET /api/v1/messages/:id': office,
  'POST /api/v1/messages/:id/resend': office,
  'POST /api/v1/messages/:id/cancel': office,
  // Signed by the mail server: bounces/signature.ts
  'POST /api/v1/webhooks/mail': 'link',
}
