import { VERDICT_CAUTION } from '../verdict.ts'
import type { Finding } from './records.ts'

/**
 * What a report tells people who live with the wiring. Sources: CPSC warns untrained people off inspecting or
 * repairing wiring; the meter seal is the utility's; the rest is common practice, no source.
 */
const FOR_EVERYONE = [
  'Pressing test buttons and reading labels is safe for anyone. Leave covers, panels and wiring to a licensed electrician.',
  'The meter and its seal belong to the utility. Nobody else opens them.',
  'An inspection sees what can be reached on that day. It does not look into walls and does not predict failures.',
  'If lights grow bright and dim against each other, if anything smells of burning, buzzes or feels hot: switch it off if you can do so safely, keep away, and call. In a fire, leave and call the fire department.',
] as const

const WHEN_UNSAFE =
  'What was switched off or taken out of use to make it safe stays off until it is put right. Please do not switch it back on.'

export function reportCautions(findings: readonly Finding[]): string[] {
  const unsafe = findings.some((finding) => finding.severity === 'unsafe')
  return [...(unsafe ? [WHEN_UNSAFE] : []), ...FOR_EVERYONE, VERDICT_CAUTION]
}
