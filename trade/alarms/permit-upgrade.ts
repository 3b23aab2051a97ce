import type { RuleContext } from '../editions.ts'
import { finding, notApplicable, onClocks, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { Verdict } from '../verdict.ts'
import { PERMIT_UPGRADE } from './requirements.ts'

export const WORK_KINDS = {
  electrical: 'Electrical',
  interior: 'Interior alteration or addition',
  exterior: 'Exterior surfaces only',
  plumbing: 'Plumbing',
  mechanical: 'Heating, cooling, ventilation',
} as const
export type WorkKind = keyof typeof WORK_KINDS

/** Work that the model code leaves out although it needs a permit; electrical work is not among it. IRC R314.2.2. */
const EXEMPT: readonly WorkKind[] = ['exterior', 'plumbing', 'mechanical']

export interface PermitWork {
  work: WorkKind | null
  needsPermit: boolean | null
}

/**
 * Work under a permit asks for alarms as in a new dwelling. Some places exempt electrical work (Michigan R 408.30546):
 * their local change `alarms.permit-upgrade` with effect `remove` answers here.
 */
export function judgePermitUpgrade({ work, needsPermit }: PermitWork, context: RuleContext): Verdict {
  const basis = onClocks(
    { rule: 'alarms.permit-upgrade', inputs: { work, needsPermit } },
    clocksOf(PERMIT_UPGRADE, context),
  )
  if (needsPermit === false) return notApplicable(basis, 'the work needs no permit')
  if (work && EXEMPT.includes(work)) return notApplicable(basis, 'the code exempts this kind of work')
  if (basis.today === 'no') return notApplicable(basis, 'not asked for here')
  const missing = [
    ...(work ? [] : ['Kind of work']),
    ...(needsPermit === null ? ['Whether the work needs a permit'] : []),
    ...(basis.today === 'unknown' ? ['Code edition in force'] : []),
  ]
  if (missing.length) return undetermined(basis, missing)
  return finding(basis, 'improve', {
    technician: 'Work under this permit asks for alarms as in a new dwelling: offer what the coverage lacks.',
    homeowner: 'With this permit your home also needs its smoke alarms brought up to what new homes have.',
  })
}
