/** What a visit is for. */
export const VISIT_KINDS = {
  inspection: 'Inspection',
  repair: 'Repair',
  'correction-check': 'Check of a correction',
} as const
export type VisitKind = keyof typeof VISIT_KINDS

export const VISIT_STATES = {
  booked: 'Booked',
  travelling: 'On the way',
  'on-site': 'On site',
  finished: 'Finished',
  cancelled: 'Cancelled',
  'no-access': 'Nobody let us in',
} as const
export type VisitState = keyof typeof VISIT_STATES

/** What can be done with a visit, and from which states; the button and the server ask the same table. */
export const VISIT_STEPS = {
  'start-travel': { from: ['booked'], to: 'travelling', words: 'start travel' },
  arrive: { from: ['booked', 'travelling'], to: 'on-site', words: 'arrive' },
  finish: { from: ['on-site'], to: 'finished', words: 'finish' },
  cancel: { from: ['booked', 'travelling'], to: 'cancelled', words: 'cancel' },
  'no-access': { from: ['booked', 'travelling', 'on-site'], to: 'no-access', words: 'record no access' },
} as const satisfies Record<string, { from: readonly VisitState[]; to: VisitState; words: string }>
export type VisitStep = keyof typeof VISIT_STEPS

export function mayTake(step: VisitStep, state: VisitState): boolean {
  return (VISIT_STEPS[step].from as readonly VisitState[]).includes(state)
}

/** Time and place may be changed until somebody has set off. */
export const MOVABLE_STATES: readonly VisitState[] = ['booked']

/** Visits that take a technician's time: the ones that cannot overlap. */
export const LIVE_STATES: readonly VisitState[] = ['booked', 'travelling', 'on-site', 'finished']

export const REQUEST_STATES = { waiting: 'Waiting', booked: 'Booked', withdrawn: 'Withdrawn' } as const
export type RequestState = keyof typeof REQUEST_STATES

export const REQUEST_SOURCES = { phone: 'Phone', 'e-mail': 'E-mail', 'private-link': 'Private link' } as const
export type RequestSource = keyof typeof REQUEST_SOURCES

/** Arrival windows that are offered, on the wall of the property's zone. Two hours: common practice, no source. */
export const ARRIVAL_WINDOWS = [
  { start: '08:00', end: '10:00' },
  { start: '10:00', end: '12:00' },
  { start: '13:00', end: '15:00' },
  { start: '15:00', end: '17:00' },
] as const

/** Field work ends at this hour unless somebody books later by hand. Common practice, no source. */
export const WORK_ENDS_AT = '18:00'

/** Roles of people at a home: the owner and who lives there may differ from who pays. */
export const PARTY_ROLES = {
  owner: 'Owner',
  occupant: 'Lives there',
  payer: 'Pays',
  contact: 'Contact',
} as const
export type PartyRole = keyof typeof PARTY_ROLES

/** Minutes planned for work that is no inspection, until somebody says otherwise. Own choice. */
export const USUAL_MINUTES = { repair: 90, 'correction-check': 45 } as const satisfies Partial<
  Record<VisitKind, number>
>
