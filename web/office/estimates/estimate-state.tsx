import { ESTIMATE_STATES, type EstimateState } from '../../../trade/estimates/states.ts'
import { Tag } from '../../shared/ui/page.tsx'

const TONES = {
  draft: 'plain',
  sent: 'lamp',
  accepted: 'good',
  declined: 'bad',
  expired: 'plain',
  withdrawn: 'plain',
} as const

export function EstimateStateTag({ state }: { state: EstimateState }) {
  return <Tag tone={TONES[state]}>{ESTIMATE_STATES[state]}</Tag>
}
