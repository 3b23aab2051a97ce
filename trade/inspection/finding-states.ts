/** Where a finding stands, from the day it is written to the day it is closed. */
export const FINDING_STATES = {
  open: 'Open',
  'on-estimate': 'On an estimate',
  accepted: 'Accepted',
  declined: 'Declined',
  booked: 'Booked',
  corrected: 'Corrected',
  checked: 'Correction checked',
  'no-longer-applies': 'No longer applies',
} as const
export type FindingState = keyof typeof FINDING_STATES

/** Every step a finding may take, and what makes it take it. */
export const FINDING_STEPS: readonly { from: FindingState; to: FindingState; when: string }[] = [
  { from: 'open', to: 'on-estimate', when: 'an estimate that holds it is sent' },
  { from: 'open', to: 'accepted', when: 'the customer asks for the repair without an estimate' },
  { from: 'open', to: 'declined', when: 'the customer signs that it stays as it is' },
  { from: 'open', to: 'corrected', when: 'it is put right on the spot, or the customer says it was' },
  { from: 'open', to: 'no-longer-applies', when: 'the part is gone' },
  { from: 'on-estimate', to: 'open', when: 'the estimate expires or is withdrawn' },
  { from: 'on-estimate', to: 'accepted', when: 'the customer accepts' },
  { from: 'on-estimate', to: 'declined', when: 'the customer declines, signed' },
  { from: 'on-estimate', to: 'corrected', when: 'it was put right meanwhile' },
  { from: 'on-estimate', to: 'no-longer-applies', when: 'the part is gone' },
  { from: 'accepted', to: 'booked', when: 'a visit for the repair is booked' },
  { from: 'accepted', to: 'declined', when: 'the customer takes the acceptance back' },
  { from: 'accepted', to: 'corrected', when: 'it was put right without a visit of its own' },
  { from: 'accepted', to: 'no-longer-applies', when: 'the part is gone' },
  { from: 'declined', to: 'on-estimate', when: 'it is offered anew' },
  { from: 'declined', to: 'accepted', when: 'the customer decides for the repair after all' },
  { from: 'declined', to: 'corrected', when: 'someone put it right' },
  { from: 'declined', to: 'no-longer-applies', when: 'the part is gone' },
  { from: 'booked', to: 'accepted', when: 'the visit is cancelled' },
  { from: 'booked', to: 'corrected', when: 'the repair is done' },
  { from: 'booked', to: 'no-longer-applies', when: 'the part is gone' },
  { from: 'corrected', to: 'checked', when: 'someone looked and found it right' },
  { from: 'corrected', to: 'open', when: 'someone looked and found it still there' },
  { from: 'corrected', to: 'no-longer-applies', when: 'the part is gone' },
]

export function mayBecome(from: FindingState, to: FindingState): boolean {
  return FINDING_STEPS.some((step) => step.from === from && step.to === to)
}

/** Nothing more can happen to it; it is not carried into the next inspection. */
export function isClosed(state: FindingState): boolean {
  return !FINDING_STEPS.some((step) => step.from === state)
}

export const REVIEW_OUTCOMES = {
  'still-there': 'Still there',
  'corrected-by-us': 'Corrected by us',
  'corrected-by-others': 'Corrected by others',
  'no-longer-applies': 'No longer applies',
} as const
export type ReviewOutcome = keyof typeof REVIEW_OUTCOMES

/**
 * Where a carried finding stands after someone looked at it again. A correction seen with one's own eyes is checked;
 * one that was reported but is still there is open again.
 */
export function stateAfterReview(state: FindingState, outcome: ReviewOutcome): FindingState {
  if (isClosed(state)) return state
  switch (outcome) {
    case 'still-there':
      return state === 'corrected' ? 'open' : state
    case 'corrected-by-us':
    case 'corrected-by-others':
      return 'checked'
    case 'no-longer-applies':
      return 'no-longer-applies'
  }
}
