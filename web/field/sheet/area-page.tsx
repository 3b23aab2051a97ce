import { type ReactNode, useEffect, useRef, useState } from 'react'
import type { Line } from '../../../trade/inspection/lines.ts'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { Top } from '../parts/top.tsx'
import { go } from '../places.ts'
import { answerAll, takeBack } from './acts.ts'
import { AddEquipment } from './add-equipment.tsx'
import { sweepArea, Swept } from './all-sound.tsx'
import type { Inspection } from './inspection-of.ts'
import { LineCard } from './line-card.tsx'
import { Missing } from './missing.tsx'
import { nextOpenLine } from './next-line.ts'
import { useInspection } from './use-inspection.ts'
import { areaTitle } from './visit-page.tsx'
import css from './area-page.module.css'

/** One area: its lines one under another, the one being worked on unfolded. */
export function AreaPage({
  visitId,
  areaId,
  line,
}: {
  visitId: string
  areaId: string
  line: string | null
}) {
  const inspection = useInspection(visitId)
  if (!inspection) return <Missing loading={inspection === undefined} />
  return <Area inspection={inspection} areaId={areaId} line={line} />
}

function Area({ inspection, areaId, line }: { inspection: Inspection; areaId: string; line: string | null }) {
  const { sheet } = inspection
  const lines = inspection.lines.filter((each) => each.area.id === areaId)
  const open = lines.filter((each) => !inspection.answerAt(each))
  const { unfolded, unfold, moveOn } = useUnfolded(line ?? open[0]?.key ?? null, line)
  const [swept, setSwept] = useState<readonly Line[]>([])
  const isOpen = !sheet.inspection || sheet.inspection.state === 'open'
  const sweep = sweepArea(inspection, lines)
  // With nothing unfolded, what is left here comes before the areas after it.
  const next =
    (unfolded === null ? open[0] : null) ?? nextOpenLine(inspection, unfolded ?? lines.at(-1)?.key ?? null)
  const openAfter = (key: string) => {
    const after = lines.slice(lines.findIndex((each) => each.key === key) + 1)
    return after.find((each) => !inspection.answerAt(each))?.key ?? null
  }
  const sweepNow = async () => {
    await answerAll(sheet, sweep.sound, 'ok')
    setSwept(sweep.sound)
    unfold(null, 'stay')
  }
  const undo = async () => {
    await takeBack(sheet, swept)
    setSwept([])
    unfold(swept[0]?.key ?? null)
  }
  const cautioned = new Set<string>()
  return (
    <>
      <Top
        title={areaTitle(areaId)}
        back={{ place: { at: 'visit', visitId: sheet.id }, words: sheet.property.line1 }}
      />
      <main className="content">
        <p className={css.progress}>
          {lines.length - open.length} of {lines.length} answered
        </p>
        {swept.length > 0 && (
          <Swept
            count={swept.length}
            staying={sweep.staying}
            onUndo={() => void undo()}
            onGo={(to) => unfold(to.key)}
          />
        )}
        {byItem(lines).map((group) => (
          <Group key={group[0]!.item.id} lines={group}>
            {group.map((each) => {
              const { caution } = each.item
              const isFirst = Boolean(caution) && !cautioned.has(caution!)
              if (caution) cautioned.add(caution)
              return (
                <LineCard
                  key={each.key}
                  inspection={inspection}
                  line={each}
                  isAmongOthers={group.length > 1}
                  isFirstCaution={isFirst}
                  isUnfolded={unfolded === each.key}
                  isOpen={isOpen}
                  onFold={() => unfold(unfolded === each.key ? null : each.key, 'stay')}
                  onAnswered={() => moveOn(each.key, openAfter(each.key))}
                  onAdded={(key) => unfold(key)}
                />
              )
            })}
          </Group>
        ))}
        {isOpen && <AddEquipment inspection={inspection} areaId={areaId} onAdded={(key) => unfold(key)} />}
        <p className="soft">{VERDICT_CAUTION}</p>
      </main>
      <nav className="bottom" aria-label="Next">
        {/* Something always stands here: a thumb that taps Next again must not find another button under it. */}
        {isOpen && sweep.sound.length > 1 ? (
          <button type="button" className="press" onClick={() => void sweepNow()}>
            Other {sweep.sound.length} here are sound
          </button>
        ) : (
          <span className={css.beside} aria-hidden="true">
            {lines.length - open.length} of {lines.length}
          </span>
        )}
        <NextButton inspection={inspection} areaId={areaId} next={next} onUnfold={unfold} />
      </nav>
    </>
  )
}

function NextButton({
  inspection: { sheet },
  areaId,
  next,
  onUnfold,
}: {
  inspection: Inspection
  areaId: string
  next: Line | null
  onUnfold: (key: string) => void
}) {
  const visitId = sheet.id
  const isHere = next?.area.id === areaId
  const press = () => {
    if (!next) go({ at: 'finish', visitId })
    else if (isHere) onUnfold(next.key)
    else go({ at: 'area', visitId, areaId: next.area.id, line: next.key })
  }
  return (
    <button type="button" id="next" className="press" data-look="main" onClick={press}>
      {next ? `Next unanswered${isHere ? '' : `: ${next.area.title}`}` : 'All answered: finish'}
    </button>
  )
}

/** Lines of one item that there are many of stand under its name, each called by its place. */
function Group({ lines, children }: { lines: readonly Line[]; children: ReactNode }) {
  if (lines.length === 1) return children
  return (
    <section className={css.group} aria-label={lines[0]!.item.title}>
      <h2>{lines[0]!.item.title}</h2>
      {children}
    </section>
  )
}

function byItem(lines: readonly Line[]): Line[][] {
  const groups = new Map<string, Line[]>()
  for (const line of lines) groups.set(line.item.id, [...(groups.get(line.item.id) ?? []), line])
  return [...groups.values()]
}

/** The line that is unfolded; whoever moves on finds it under the thumb, and a keyboard finds itself on it. */
function useUnfolded(first: string | null, asked: string | null) {
  const [unfolded, setUnfolded] = useState<string | null>(first)
  const follows = useRef(asked !== null)
  useEffect(() => {
    if (!asked) return
    follows.current = true
    setUnfolded(asked)
  }, [asked])
  useEffect(() => (follows.current ? goToLine(unfolded) : undefined), [unfolded])
  const unfold = (key: string | null, how: 'follow' | 'stay' = 'follow') => {
    follows.current = how === 'follow'
    setUnfolded(key)
  }
  // The answer is kept a moment after the tap; who has gone to another line meanwhile stays there.
  const moveOn = (from: string, to: string | null) => {
    follows.current = true
    setUnfolded((now) => (now === from ? to : now))
  }
  return { unfolded, unfold, moveOn }
}

/** A line that was just added is drawn a moment later, when the device has kept it. */
function goToLine(key: string | null): () => void {
  let frame = 0
  let left = 60
  const look = () => {
    const card = key ? document.getElementById(key) : null
    const target = key ? card?.querySelector('button') : document.getElementById('next')
    target?.focus({ preventScroll: true })
    card?.scrollIntoView({ block: 'start' })
    if (!target && left-- > 0) frame = requestAnimationFrame(look)
  }
  look()
  return () => cancelAnimationFrame(frame)
}
