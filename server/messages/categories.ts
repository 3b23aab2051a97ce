/** What an e-mail is about, as far as the law and the receiver's wishes tell it apart. */
export const MESSAGE_CATEGORIES = {
  booking: 'Bookings and visits',
  safety: 'Hazards found in the home',
  report: 'Reports and papers',
  reminder: 'Reminders of what is due',
  tips: 'Safety tips through the year',
  account: 'Log-in of staff, and tests',
} as const
export type MessageCategory = keyof typeof MESSAGE_CATEGORIES

/** Offers work, so it is commercial mail: it can be refused, is capped, and carries a one-click way out (16 CFR 316). */
export const COMMERCIAL: readonly MessageCategory[] = ['reminder', 'tips']

/** Sent only to those who asked for it. */
const OPT_IN: readonly MessageCategory[] = ['tips']

export function isCommercial(category: MessageCategory): boolean {
  return COMMERCIAL.includes(category)
}

/** Whether a person wants it: their own word where there is one, else the default of the category. A refusal of
 *  reminders never holds back a booking or a hazard. */
export function isWanted(category: MessageCategory, word: boolean | null): boolean {
  if (!isCommercial(category)) return true
  return word ?? !OPT_IN.includes(category)
}

/** Every kind of e-mail and its category; each has a template worker/emails/<kind>. */
export const MESSAGE_KINDS = {
  'visit-booked': 'booking',
  'visit-moved': 'booking',
  'visit-cancelled': 'booking',
  'visit-no-access': 'booking',
  'visit-reminder': 'booking',
  'request-received': 'booking',
  'report-issued': 'report',
  // They asked for it, so it is no offer out of the blue: nobody can switch it off.
  'estimate-sent': 'report',
  'unsafe-finding': 'safety',
  'due-reminder': 'reminder',
  'safety-tips': 'tips',
  invitation: 'account',
  'password-reset': 'account',
} as const satisfies Record<string, MessageCategory>
export type MessageKind = keyof typeof MESSAGE_KINDS

/** Planned by the clock and not the answer to something that somebody just did: it never arrives at night. */
export function keepsHours(kind: MessageKind, category: MessageCategory): boolean {
  return isCommercial(category) || kind === 'visit-reminder'
}
