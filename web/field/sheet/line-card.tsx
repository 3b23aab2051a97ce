import { isEquipmentSubject, type Result, RESULTS } from '../../../trade/checklist/item.ts'
import { EQUIPMENT_KINDS } from '../../../trade/equipment.ts'
import type { Line } from '../../../trade/inspection/lines.ts'
import { CarriedAt } from '../findings/carried.tsx'
import { Findings } from '../findings/findings.tsx'
import { Photos } from '../photos/photos.tsx'
import { RecordedTwice } from '../parts/recorded-twice.tsx'
import { isDoubled } from '../parts/doubled.ts'
import { answer } from './acts.ts'
import { AddOne } from './add-equipment.tsx'
import { CaptureForm } from './capture-form.tsx'
import { Caution } from './caution.tsx'
import type { Inspection } from './inspection-of.ts'
import { NotReached } from './not-reached.tsx'
import { NoteField } from './note-field.tsx'
import { ReadingsForm } from './readings-form.tsx'
import { Verdicts } from './verdicts.tsx'
import css from './line-card.module.css'

const MARKS: Readonly<Record<Result, string>> = { ok: '✓', finding: '▲', absent: '–', 'not-reached': '◇' }

interface Shown {
  inspection: Inspection
  line: Line
  isOpen: boolean
  onAnswered: () => void
  onAdded: (lineKey: string) => void
}

/** One line of the sheet: what to look at, one tap for the result, and what belongs to it. */
export function LineCard({
  isAmongOthers,
  isFirstCaution,
  isUnfolded,
  onFold,
  ...shown
}: Shown & {
  /** It stands under the name of its item. */
  isAmongOthers: boolean
  isFirstCaution: boolean
  isUnfolded: boolean
  onFold: () => void
}) {
  const { line, inspection } = shown
  const { item, name } = line
  const given = inspection.answerAt(line)
  const title = name ? `${item.title}: ${name}` : item.title
  const Heading = isAmongOthers ? 'h3' : 'h2'
  return (
    <article className={css.line} id={line.key} data-result={given?.result} aria-label={title}>
      <Heading className={css.head}>
        <button type="button" aria-expanded={isUnfolded} onClick={onFold}>
          <span className={css.mark} aria-hidden="true">
            {given ? MARKS[given.result] : '○'}
          </span>
          <span className={css.title}>
            {isAmongOthers && <span className="visually-hidden">{item.title}: </span>}
            {isAmongOthers ? name : title}
          </span>
          <span className={css.result}>{given ? RESULTS[given.result] : 'Open'}</span>
        </button>
      </Heading>
      {isUnfolded && (
        <div className={css.body}>
          {item.caution && <Caution words={item.caution} isFirst={isFirstCaution} />}
          <p className="soft">{item.plain}</p>
          <Body {...shown} title={title} />
        </div>
      )}
    </article>
  )
}

function Body({ inspection, line, isOpen, onAnswered, onAdded, title }: Shown & { title: string }) {
  const { sheet } = inspection
  const { item } = line
  const given = inspection.answerAt(line)
  const wasSeen = given?.result !== 'absent' && given?.result !== 'not-reached'
  const put = async (result: Result) => {
    await answer(sheet, line, { result })
    const isDone = result === 'absent' || (result === 'ok' && !item.required?.length)
    if (isDone) onAnswered()
  }
  return (
    <>
      {line.noneRecorded && !given && (
        <NoneRecorded inspection={inspection} line={line} isOpen={isOpen} onAdded={onAdded} />
      )}
      {isOpen && (
        <div className={css.results} role="group" aria-label={`Result: ${title}`}>
          {(Object.keys(RESULTS) as Result[]).map((result) => (
            <button
              key={result}
              type="button"
              className="press"
              aria-pressed={given?.result === result}
              onClick={(event) => {
                if (!isDoubled(event)) void put(result)
              }}
            >
              <span aria-hidden="true">{MARKS[result]}</span> {RESULTS[result]}
            </button>
          ))}
        </div>
      )}
      {given?.result === 'not-reached' && <NotReached sheet={sheet} line={line} given={given} />}
      {wasSeen && (
        <>
          <CaptureForm inspection={inspection} line={line} />
          <ReadingsForm inspection={inspection} line={line} given={given} />
        </>
      )}
      <RecordedTwice sheet={sheet} only={(each) => each.subject === `answer:${line.key}`} />
      <Verdicts inspection={inspection} line={line} given={given} />
      <CarriedAt inspection={inspection} line={line} />
      {given?.result === 'finding' && <Findings inspection={inspection} line={line} />}
      {given && <NoteField sheet={sheet} line={line} given={given} />}
      <Photos sheet={sheet} line={line} wish={item.photo} isOpen={isOpen} />
    </>
  )
}

/** The item is about things or rooms of which this home has none on record yet. */
function NoneRecorded({
  inspection,
  line,
  isOpen,
  onAdded,
}: Pick<Shown, 'inspection' | 'line' | 'isOpen' | 'onAdded'>) {
  const { subject } = line.item
  if (!isEquipmentSubject(subject)) return <p>No rooms are on record for this home yet.</p>
  const kind = EQUIPMENT_KINDS[subject.equipment].toLowerCase()
  return (
    <>
      <p>No {kind} is on record for this home yet. If there is one, add it; if not, answer “None here”.</p>
      {isOpen && (
        <AddOne inspection={inspection} kind={subject.equipment} itemId={line.item.id} onAdded={onAdded} />
      )}
    </>
  )
}
