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

export function VisitStateTag({ state }: { state: VisitState }) {
  return <Tag tone={TONES[state]}>{VISIT_STATES[state]}</Tag>
}
