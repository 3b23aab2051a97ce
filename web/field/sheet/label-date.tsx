import { parseLabel } from '../../../trade/alarms/parse-label.ts'
import type { Senses } from '../../../trade/alarms/life-figures.ts'
import type { Day } from '../../../trade/dates.ts'
import type { Field } from '../../../trade/fields.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import type { EquipmentView } from '../../../server/inspections/home-schema.ts'
import { formatDay } from '../../shared/format.ts'
import type { Sheet } from '../offline/sheet.ts'
import { FieldInput } from '../parts/field-input.tsx'
import { useLinePhotos } from '../photos/line-photos.ts'
import { Take } from '../photos/take.tsx'
import css from './label-date.module.css'

/**
 * The date exactly as printed, read off the label or off its picture beside it; what it can mean is said at once, and
 * chosen by whoever sees it.
 */
export function LabelDate({
  field,
  piece,
  today,
  isUs,
  line,
  sheet,
  onKeep,
  onDay,
}: {
  field: Field
  piece: EquipmentView
  today: Day
  isUs: boolean
  line: Line
  sheet: Sheet
  onKeep: (text: unknown) => void | Promise<void>
  onDay: (day: Day) => void
}) {
  const photo = useLinePhotos(sheet, line).at(-1)
  const text = String(piece.details['labelText'] ?? '')
  const parsed = text
    ? parseLabel(text, { today, kindOfAlarm: (piece.details['senses'] as Senses | undefined) ?? null, isUs })
    : null
  const made = parsed?.readings.filter((each) => each.meaning !== 'replace-by') ?? []
  return (
    <div className={css.label} data-wide>
      {photo ? (
        <a href={photo.url} target="_blank" rel="noreferrer" className={css.picture}>
          <img src={photo.url} alt={`${photo.alt}: read the date off it; opens in full size`} />
        </a>
      ) : (
        <Take sheet={sheet} line={line} words="Take a picture of the label" />
      )}
      <div className={css.typed}>
        <FieldInput field={field} value={text} onKeep={onKeep} />
        {parsed && <p className="soft">{parsed.why}</p>}
        {made.length > 0 && (
          <div className="row" role="group" aria-label="Made on">
            {made.map((each) => (
              <button
                key={`${each.layout}${each.day}`}
                type="button"
                className="press"
                aria-pressed={piece.manufacturedOn === each.day}
                onClick={() => onDay(each.day)}
              >
                Made {formatDay(each.day)}
              </button>
            ))}
          </div>
        )}
      </div>
    </div>
  )
}
