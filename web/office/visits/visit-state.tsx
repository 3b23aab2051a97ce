import { VISIT_STATES, type VisitState } from '../../../trade/visits.ts'
import { Tag } from '../../shared/ui/page.tsx'

const TONES = {
  booked: 'plain',
  travelling: 'calm',
  'on-site': 'lamp',
  finished: 'good',
  cancelled: 'plain',
  'no-access': 'bad',
} as const

/** `isConfirmed`: the customer has said that somebody will be at home. */
export function VisitStateTag({ state, isConfirmed = false }: { state: VisitState; isConfirmed?: boolean }) {
  if (state === 'booked' && isConfirmed) return <Tag tone="good">Confirmed</Tag>
  return <Tag tone={TONES[state]}>{VISIT_STATES[state]}</Tag>
}
