import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'

/** What the people who live there can say about one thing. */
export const ACTS = ['replaced', 'battery', 'checked', 'corrected', 'snooze', 'decline'] as const
export type Act = (typeof ACTS)[number]

const OWN_ACT: Readonly<Partial<Record<FollowUpKindId, Act>>> = {
  'alarm-end-of-life': 'replaced',
  'alarm-undated': 'replaced',
  'surge-failed': 'replaced',
  'alarm-battery': 'battery',
  'surge-check': 'checked',
  'surge-after-event': 'checked',
  'open-finding': 'corrected',
}

/** In the order in which the page offers them. */
export function actsOn(kind: FollowUpKindId): Act[] {
  const own = OWN_ACT[kind]
  // An estimate is declined on its own page, signed.
  const isAnsweredElsewhere = kind === 'no-access-rebooking' || kind === 'estimate-unanswered'
  const always: Act[] = isAnsweredElsewhere ? ['snooze'] : ['snooze', 'decline']
  return own ? [own, ...always] : always
}
