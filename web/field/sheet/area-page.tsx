import { useEffect, useState } from 'react'
import { VERDICT_CAUTION } from '../../../trade/verdict.ts'
import { Top } from '../parts/top.tsx'
import { go } from '../places.ts'
import { AddEquipment } from './add-equipment.tsx'
import { answer } from './acts.ts'
import type { Inspection } from './inspection-of.ts'
import { LineCard } from './line-card.tsx'
import { Missing } from './missing.tsx'
import { nextOpenLine } from './next-line.ts'
import { useInspection } from './use-inspection.ts'
import { areaTitle } from './visit-page.tsx'

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
  const [unfolded, setUnfolded] = useState<string | null>(
    line ?? lines.find((each) => !inspection.answerAt(each))?.key ?? null,
  )
  useEffect(() => {
    if (line) setUnfolded(line)
  }, [line])
  useEffect(() => {
    if (unfolded) document.getElementById(unfolded)?.scrollIntoView({ block: 'nearest' })
  }, [unfolded])
  const unanswered = lines.filter((each) => !inspection.answerAt(each))
  const plainOnes = unanswered.filter((each) => !each.item.required?.length && !each.noneRecorded)
  const next = nextOpenLine(inspection, unfolded)
  const cautions = [...new Set(lines.map((each) => each.item.caution).filter(Boolean))]
  const isOpen = !sheet.inspection || sheet.inspection.state === 'open'
  const moveOn = (key: string) => {
    const after = lines
      .slice(lines.findIndex((each) => each.key === key) + 1)
      .find((each) => !inspection.answerAt(each))
    setUnfolded(after?.key ?? null)
  }
  return (
    <>
      <Top
        title={areaTitle(areaId)}
        back={{ place: { at: 'visit', visitId: sheet.id }, words: sheet.property.line1 }}
      />
      <main className="content">
        {cautions.map((caution) => (
          <p key={caution} className="caution">
            {caution}
          </p>
        ))}
        {lines.map((each) => (
          <LineCard
            key={each.key}
            inspection={inspection}
            line={each}
            isUnfolded={unfolded === each.key}
            isOpen={isOpen}
            onFold={() => setUnfolded(unfolded === each.key ? null : each.key)}
            onAnswered={() => moveOn(each.key)}
          />
        ))}
        {isOpen && <AddEquipment inspection={inspection} areaId={areaId} onAdded={setUnfolded} />}
        {isOpen && plainOnes.length > 1 && (
          <button
            type="button"
            className="press"
            onClick={() =>
              void (async () => {
                for (const each of plainOnes) await answer(sheet, each, { result: 'ok' })
              })()
            }
          >
            The other {plainOnes.length} here are sound
          </button>
        )}
        <p className="soft">{VERDICT_CAUTION}</p>
      </main>
      <nav className="bottom" aria-label="Next">
        {next ? (
          <button
            type="button"
            className="press"
            data-look="main"
            onClick={() =>
              next.area.id === areaId
                ? setUnfolded(next.key)
                : go({ at: 'area', visitId: sheet.id, areaId: next.area.id, line: next.key })
            }
          >
            Next unanswered{next.area.id !== areaId && `: ${next.area.title}`}
          </button>
        ) : (
          <button
            type="button"
            className="press"
            data-look="main"
            onClick={() => go({ at: 'finish', visitId: sheet.id })}
          >
            All answered: finish
          </button>
        )}
      </nav>
    </>
  )
}
