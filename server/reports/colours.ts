import type { Severity } from '../../trade/verdict.ts'
import type { ReportContent } from './content.ts'

export type Safety = ReportContent['answer']['safety']

/** Dark enough to be read as text on white: contrast of 4.5 and more (WCAG 2.2, 1.4.3). */
export const SEVERITY_COLOURS: Readonly<Record<Severity, string>> = {
  unsafe: '#9b1c1f',
  repair: '#8f4a06',
  investigate: '#59408a',
  improve: '#1b5a8e',
  watch: '#3d6234',
}

export const SAFETY_COLOURS: Readonly<Record<Safety, { ink: string; tint: string }>> = {
  'not-safe': { ink: '#9b1c1f', tint: '#fbeeee' },
  'made-safe': { ink: '#8f4a06', tint: '#fcf4e8' },
  'repairs-needed': { ink: '#8f4a06', tint: '#fcf4e8' },
  'more-work-needed': { ink: '#59408a', tint: '#f4f0fa' },
  sound: { ink: '#2d5f3f', tint: '#eef6f0' },
}

/** The severity whose sign stands beside an answer; null: the tick. */
export const SIGN_OF_SAFETY: Readonly<Record<Safety, Severity | null>> = {
  'not-safe': 'unsafe',
  'made-safe': 'repair',
  'repairs-needed': 'repair',
  'more-work-needed': 'investigate',
  sound: null,
}
