import type { FollowUpSummary } from '../../../server/follow-ups/schema.ts'
import { formatDay } from '../../shared/format.ts'

/** What happens next, as the office says it: `By e-mail on Jun 5, 2026`, `By telephone: 2 years overdue when first seen`. */
export function nextInWords({
  next,
  messageState,
  notArrived,
  customerEmail,
}: Pick<FollowUpSummary, 'next' | 'messageState' | 'notArrived' | 'customerEmail'>): string | null {
  if (!next) return null
  const { how, on, overdueWhenSeen } = next
  switch (how) {
    case 'booked':
      return 'A visit is booked'
    case 'asked':
      return 'They asked for a visit: book it'
    case 'rests':
      return `Put off until ${formatDay(on!)}`
    case 'nobody':
      return 'Nobody is named: find out who lives there'
    case 'nothing':
      return 'No letter follows: phone or dismiss'
    case 'mail':
      if (messageState === 'bounced') return 'By telephone: our mail came back'
      return on ? `By e-mail on ${formatDay(on)}` : 'By e-mail, with the next round'
    case 'letter':
      return on ? `By paper letter on ${formatDay(on)}` : `By paper letter${reason(overdueWhenSeen)}`
    case 'call':
      if (messageState === 'bounced') return 'By telephone: our mail came back'
      if (customerEmail === null) return 'By telephone: no e-mail'
      if (notArrived === 'failed') return 'By telephone: our mail could not be sent'
      if (notArrived === 'suppressed') return 'By telephone: no mail goes to their address'
      return on ? `By telephone on ${formatDay(on)}` : `By telephone${reason(overdueWhenSeen)}`
  }
}

const reason = (overdueWhenSeen: number | null) =>
  overdueWhenSeen === null ? '' : `: ${spanInWords(overdueWhenSeen)} overdue when first seen`

/** Days as people say them: `45 days`, `8 months`, from two years on `2 years`. */
export function spanInWords(days: number): string {
  const count = (value: number, unit: string) => `${value} ${unit}${value === 1 ? '' : 's'}`
  if (days < 60) return count(days, 'day')
  if (days < 730) return count(Math.round(days / 30.44), 'month')
  return count(Math.floor(days / 365), 'year')
}
