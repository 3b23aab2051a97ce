import { addDays, type Day } from '../dates.ts'

export const ESTIMATE_STATES = {
  draft: 'Draft',
  sent: 'Sent',
  accepted: 'Accepted',
  declined: 'Declined',
  expired: 'Expired',
  withdrawn: 'Withdrawn',
} as const
export type EstimateState = keyof typeof ESTIMATE_STATES

/** What can be done with an estimate, and from which states; the button and the server ask the same table. */
export const ESTIMATE_STEPS = {
  change: { from: ['draft', 'sent'], to: null, words: 'changed' },
  send: { from: ['draft'], to: 'sent', words: 'sent' },
  accept: { from: ['sent'], to: 'accepted', words: 'accepted' },
  decline: { from: ['sent'], to: 'declined', words: 'declined' },
  record: { from: ['draft', 'sent'], to: null, words: 'answered by word of mouth' },
  expire: { from: ['sent'], to: 'expired', words: 'left to run out' },
  withdraw: { from: ['draft', 'sent'], to: 'withdrawn', words: 'withdrawn' },
} as const satisfies Record<
  string,
  { from: readonly EstimateState[]; to: EstimateState | null; words: string }
>
export type EstimateStep = keyof typeof ESTIMATE_STEPS

export function mayTakeStep(step: EstimateStep, state: EstimateState): boolean {
  return (ESTIMATE_STEPS[step].from as readonly EstimateState[]).includes(state)
}

/** How long an offer is usually open, days. Common practice, no source. */
export const ESTIMATE_OPEN_DAYS = 30

export const usualExpiry = (today: Day): Day => addDays(today, ESTIMATE_OPEN_DAYS)

/** An offer is open on its last day too. */
export function hasRunOut({ expiresOn }: { expiresOn: Day | null }, today: Day): boolean {
  return expiresOn !== null && expiresOn < today
}

/** Findings that an estimate may offer to correct: not those that are on the way to be. */
export const OFFERABLE_FINDINGS = ['open', 'on-estimate', 'declined'] as const
