import type { RuleContext } from '../editions.ts'
import { type Basis, finding, notApplicable, standingPhrase, type Words } from '../judging.ts'
import type { Severity, Verdict } from '../verdict.ts'

/**
 * An alarm is missing or badly placed. Unlike wiring it is advised for every home whatever its year and code (CPSC, fire
 * services), so an unknown edition is no reason to stay silent: graver when it was required as built, otherwise an
 * improvement. Only a local change that drops the requirement ends it.
 */
export function alarmShortfall(
  basis: Basis,
  context: RuleContext,
  words: Words,
  gravity: Severity = 'repair',
): Verdict {
  const { whenBuilt = 'unknown', today = 'unknown' } = basis
  if (whenBuilt !== 'yes' && today === 'no') return notApplicable(basis, 'not asked for here')
  const known = whenBuilt === 'yes' || today === 'yes'
  const standing = known ? standingPhrase(whenBuilt, today, context) : 'advised for every home'
  const said = { ...words, technician: `${words.technician}; ${standing}.` }
  return finding(basis, whenBuilt === 'yes' ? gravity : 'improve', said)
}
