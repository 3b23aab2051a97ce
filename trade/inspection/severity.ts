import { SEVERITIES, type Severity } from '../verdict.ts'
import { type Finding, isBlank } from './records.ts'

/** What each severity means, in the words of the form and the report. */
export const SEVERITY_WORDS: Readonly<Record<Severity, { title: string; meaning: string }>> = {
  unsafe: { title: 'Unsafe', meaning: 'Shock, burn or fire can happen today.' },
  repair: { title: 'Repair', meaning: 'Defective, or against the rule it was built under.' },
  investigate: { title: 'Investigate', meaning: 'Cannot be judged without more work.' },
  improve: { title: 'Improve', meaning: 'Safe, but below what would be required in new work today.' },
  watch: { title: 'Watch', meaning: 'Ageing: it has a date or a condition.' },
}

/** Gravest first; for sorting. */
export function gravity(severity: Severity): number {
  return SEVERITIES.indexOf(severity)
}

export function isLowered(proposed: Severity | null, chosen: Severity | null): boolean {
  return proposed !== null && chosen !== null && gravity(chosen) > gravity(proposed)
}

/** A proposed severity may be raised freely; lowering it needs a reason, which stays on the record. */
export function needsLoweredReason(
  finding: Pick<Finding, 'proposedSeverity' | 'severity' | 'loweredReason'>,
): boolean {
  return isLowered(finding.proposedSeverity, finding.severity) && isBlank(finding.loweredReason)
}

/** An unsafe finding may be left behind only made safe, or with the owner's signed refusal. */
export function isSettledUnsafe(finding: Pick<Finding, 'makeSafe' | 'refusal'>): boolean {
  const signed = finding.refusal && !isBlank(finding.refusal.name) && !isBlank(finding.refusal.statement)
  return !isBlank(finding.makeSafe) || Boolean(signed)
}
