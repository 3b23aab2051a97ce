import type { WorklistNumbers } from '../../../server/follow-ups/schema.ts'
import css from './due.module.css'

const NUMBERS = [
  ['month', 'dueThisMonth', 'due this month'],
  ['answered', 'answered', 'answered'],
  ['booked', 'booked', 'booked'],
  ['ignored', 'ignoredTwice', 'ignored two letters: call them'],
  ['bounced', 'bounced', 'letters came back: call them'],
] as const

/** The figures of the month. Each is a filter: pressed, the list shows those that it counts. */
export function DueNumbers({
  numbers,
  only,
  onChoose,
}: {
  numbers: WorklistNumbers | undefined
  only: string | undefined
  onChoose: (only: string) => void
}) {
  return (
    <div className={css.numbers} role="group" aria-label="Figures: each shows what it counts">
      {NUMBERS.map(([key, count, words]) => (
        <button
          key={key}
          type="button"
          aria-pressed={only === key}
          onClick={() => onChoose(only === key ? '' : key)}
        >
          <strong>{numbers ? numbers[count] : '–'}</strong> {words}
        </button>
      ))}
    </div>
  )
}
