import type { PreviewView } from '../../../server/follow-up-policy/schema.ts'
import { formatDay } from '../../shared/format.ts'
import css from './follow-up-policy.module.css'

type Simulated = PreviewView['simulated']
type Both<Value> = { before: Value; after: Value }

/** Two simulated years under the policy that holds and under the other: by month, at the worst, and what is promised. */
export function PolicySimulated({ simulated }: { simulated: Simulated }) {
  const { months, busiestDay, householdIn7Days, householdInAYear, promises } = simulated
  const years = [...new Set(months.map(({ month }) => month.slice(0, 4)))]
  const most = Math.max(1, ...months.flatMap(({ before, after }) => [before, after]))
  const broken = promises.filter(({ before, after }) => before + after > 0)
  return (
    <section className={css.simulated} aria-label="Two simulated years">
      <h4>Two simulated years</h4>
      <p className={css.note}>
        A made-up company with as many homes as yours, by the clock of the engine. Nobody there has been told
        anything yet, so its first month is fuller than yours.
      </p>
      <ul>
        <li>
          The busiest day:{' '}
          {differ(busiestDay, ({ on, messages }) => `${messages} letters on ${formatDay(on)}`)}.
        </li>
        <li>
          The household that gets most letters about what is due, in any 7 days:{' '}
          {differ(householdIn7Days, letters)}; in a year: {differ(householdInAYear, letters)}.
        </li>
        <li>
          {broken.length === 0
            ? `Nought, as promised: ${promises.map(({ promise }) => promise).join('; ')}.`
            : `Broken: ${broken
                .map(({ promise, before, after }) => `${promise} (${before} now, ${after} then)`)
                .join('; ')}.`}
        </li>
      </ul>
      {years.map((year, n) => (
        <details key={year} open={n === 0}>
          <summary>Letters by month, {year}</summary>
          <table className={css.months}>
            <thead>
              <tr>
                <th scope="col">Month</th>
                <th scope="col">Now</th>
                <th scope="col">Then</th>
              </tr>
            </thead>
            <tbody>
              {months
                .filter(({ month }) => month.startsWith(year))
                .map(({ month, before, after }) => (
                  <tr key={month}>
                    <th scope="row">{formatDay(`${month}-01`, { month: 'long' })}</th>
                    <Bar count={before} most={most} />
                    <Bar count={after} most={most} />
                  </tr>
                ))}
            </tbody>
          </table>
        </details>
      ))}
    </section>
  )
}

function Bar({ count, most }: { count: number; most: number }) {
  return (
    <td>
      {count}
      <span className={css.bar} style={{ inlineSize: `${(100 * count) / most}%` }} aria-hidden="true" />
    </td>
  )
}

const letters = (count: number) => (count === 1 ? 'one letter' : `${count} letters`)

function differ<Value>({ before, after }: Both<Value>, words: (value: Value) => string): string {
  const [was, would] = [words(before), words(after)]
  return was === would ? `${was}, now and then` : `${was} now, ${would} then`
}
