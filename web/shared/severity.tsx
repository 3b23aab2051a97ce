import type { Severity } from '../../trade/verdict.ts'
import css from './severity.module.css'

/** Words and shapes of the severities: told apart without colour. */
export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  unsafe: 'Unsafe',
  repair: 'Repair',
  investigate: 'Investigate',
  improve: 'Improve',
  watch: 'Watch',
}

const SHAPES: Readonly<Record<Severity, string>> = {
  unsafe: 'M5 1h6l4 4v6l-4 4H5l-4-4V5z',
  repair: 'M8 1.5 15 14.5H1z',
  investigate: 'M8 1 15 8 8 15 1 8z',
  improve: 'M2 2h12v12H2z',
  watch: 'M8 1a7 7 0 1 0 0 14A7 7 0 0 0 8 1z',
}

export function SeverityMark({ severity }: { severity: Severity }) {
  return (
    <span className={css.mark} data-severity={severity}>
      <svg viewBox="0 0 16 16" width="12" height="12" aria-hidden="true">
        <path d={SHAPES[severity]} fill="currentColor" />
      </svg>
      {SEVERITY_WORDS[severity]}
    </span>
  )
}
