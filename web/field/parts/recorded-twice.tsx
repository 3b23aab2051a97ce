import type { AlternativeView } from '../../../server/inspections/record-schema.ts'
import { formatInstant } from '../../shared/format.ts'
import { offeredWords } from '../../shared/recorded-twice.ts'
import type { Sheet } from '../offline/sheet.ts'
import { act } from '../sheet/acts.ts'

/** What two recorded for one thing without seeing each other: the later one is shown, the other one is here to take. */
export function RecordedTwice({
  sheet,
  only = () => true,
}: {
  sheet: Sheet
  only?: (alternative: AlternativeView) => boolean
}) {
  const { inspection, property } = sheet
  const offered = inspection?.alternatives.filter(only) ?? []
  if (!inspection || offered.length === 0) return null
  const isOpen = inspection.state === 'open'
  return (
    <section className="box">
      <h2>Recorded twice</h2>
      <ul className="plain-list">
        {offered.map((each) => {
          const { title, other, shown, version } = offeredWords(each, { ...sheet, ...inspection })
          const choose = (choice: 'keep' | 'use') =>
            void act(sheet, 'choose-recorded', { alternativeId: each.id, choice }, version)
          return (
            <li key={each.id} className="caution">
              <h3>{title}</h3>
              <p>
                Also recorded{each.recordedByName && ` by ${each.recordedByName}`}{' '}
                {formatInstant(each.recordedAt, property.timeZone)}: <strong>{other}</strong>
              </p>
              <p>
                Shown now{each.replacedByName && `, from ${each.replacedByName}`}: {shown}
              </p>
              <div className="row">
                <button type="button" className="press" onClick={() => choose('keep')}>
                  Keep what is shown
                </button>
                {isOpen && (
                  <button type="button" className="press" onClick={() => choose('use')}>
                    Use the other one
                  </button>
                )}
              </div>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
