import { type Result, RESULTS } from '../../../trade/checklist/item.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { Findings } from '../findings/findings.tsx'
import { CarriedAt } from '../findings/carried.tsx'
import { Photos } from '../photos/photos.tsx'
import { answer } from './acts.ts'
import { CaptureForm } from './capture-form.tsx'
import type { Inspection } from './inspection-of.ts'
import { NotReached } from './not-reached.tsx'
import { NoteField } from './note-field.tsx'
import { ReadingsForm } from './readings-form.tsx'
import { Verdicts } from './verdicts.tsx'
import css from './line-card.module.css'

const MARKS: Readonly<Record<Result, string>> = { ok: '✓', finding: '▲', absent: '–', 'not-reached': '◇' }

/** One line of the sheet: what to look at, one tap for the result, and what belongs to it. */
export function LineCard({
  inspection,
  line,
  isUnfolded,
  isOpen,
  onFold,
  onAnswered,
}: {
  inspection: Inspection
  line: Line
  isUnfolded: boolean
  isOpen: boolean
  onFold: () => void
  onAnswered: () => void
}) {
  const { sheet } = inspection
  const { item } = line
  const given = inspection.answerAt(line)
  const title = line.name ? `${item.title}: ${line.name}` : item.title
  const put = async (result: Result) => {
    await answer(sheet, line, { result })
    const isDone = result === 'absent' || (result === 'ok' && !item.required?.length)
    if (isDone) onAnswered()
  }
  return (
    <article className={css.line} id={line.key} data-result={given?.result} aria-label={title}>
      <h2 className={css.head}>
        <button type="button" aria-expanded={isUnfolded} onClick={onFold}>
          <span className={css.mark} aria-hidden="true">
            {given ? MARKS[given.result] : '○'}
          </span>
          <span className={css.title}>{title}</span>
          <span className={css.result}>{given ? RESULTS[given.result] : 'Open'}</span>
        </button>
      </h2>
      {isUnfolded && (
        <div className={css.body}>
          <p className="soft">{item.plain}</p>
          {line.noneRecorded && <p>None is recorded yet. Add it below, or say that there is none.</p>}
          {isOpen && (
            <div className={css.results} role="group" aria-label={`Result: ${title}`}>
              {(Object.keys(RESULTS) as Result[]).map((result) => (
                <button
                  key={result}
                  type="button"
                  className="press"
                  aria-pressed={given?.result === result}
                  onClick={() => void put(result)}
                >
                  <span aria-hidden="true">{MARKS[result]}</span> {RESULTS[result]}
                </button>
              ))}
            </div>
          )}
          {given?.result === 'not-reached' && <NotReached sheet={sheet} line={line} given={given} />}
          {given?.result !== 'absent' && given?.result !== 'not-reached' && (
            <>
              <CaptureForm inspection={inspection} line={line} />
              <ReadingsForm inspection={inspection} line={line} given={given} />
            </>
          )}
          <Verdicts inspection={inspection} line={line} given={given} />
          <CarriedAt inspection={inspection} line={line} />
          {given?.result === 'finding' && <Findings inspection={inspection} line={line} />}
          {given && <NoteField sheet={sheet} line={line} given={given} />}
          {sheet.inspection && <Photos sheet={sheet} line={line} wish={item.photo} />}
        </div>
      )}
    </article>
  )
}
