import type { MessageState, MessageView } from '../../../server/messages/schema.ts'
import { Tag } from '../../shared/ui/page.tsx'

export const STATES: Readonly<Record<MessageState, string>> = {
  planned: 'Waiting to be sent',
  sending: 'Being sent',
  sent: 'Handed over',
  failed: 'Gave up',
  bounced: 'Came back',
  suppressed: 'Held back',
  cancelled: 'Cancelled',
}
const TONES: Readonly<Record<MessageState, 'plain' | 'good' | 'lamp' | 'bad' | 'calm'>> = {
  planned: 'calm',
  sending: 'calm',
  sent: 'good',
  failed: 'bad',
  bounced: 'bad',
  suppressed: 'lamp',
  cancelled: 'plain',
}
export const CATEGORIES = {
  booking: 'Bookings and visits',
  safety: 'Hazards found',
  report: 'Reports',
  reminder: 'Reminders',
  tips: 'Safety tips',
  account: 'Log-in of staff, and tests',
} as const
export const KINDS = {
  'visit-booked': 'Visit booked',
  'visit-moved': 'Visit moved',
  'visit-cancelled': 'Visit cancelled',
  'visit-no-access': 'Nobody let us in',
  'visit-reminder': 'Reminder of a visit',
  'request-received': 'Request received',
  'report-issued': 'Report',
  'estimate-sent': 'Estimate',
  'unsafe-finding': 'Unsafe finding',
  'due-reminder': 'What is due',
  'safety-tips': 'Safety tips',
  invitation: 'Invitation of staff',
  'password-reset': 'New password',
} as const

/** A letter's subject is written when it goes out; until then it is called by its kind. */
export function titleOf({ subject, kind }: Pick<MessageView, 'subject' | 'kind'>): string {
  return subject ?? (KINDS as Readonly<Record<string, string>>)[kind] ?? kind
}

export function MessageStateTag({ state }: { state: MessageState }) {
  return <Tag tone={TONES[state]}>{STATES[state]}</Tag>
}
