import { useState } from 'react'
import { sizeLabel } from '../../../trade/conductors/sizes.ts'
import type { EquipmentOf } from '../../../trade/equipment.ts'
import { inUse } from '../../../trade/home.ts'
import { SEVERITIES, type FindingVerdict } from '../../../trade/verdict.ts'
import type { HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import { verdictsAbout } from '../../../trade/whole-home/verdicts.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Button } from '../../shared/ui/button.tsx'
import { Table } from '../../shared/ui/table.tsx'
import css from './home-pictures.module.css'
import { panelLayout } from './panel-layout.ts'

type Circuit = EquipmentOf<'circuit'>

/** The gravest thing that the rules find at a circuit. */
function worst(judged: HomeVerdicts, circuit: Circuit): FindingVerdict | null {
  const found = verdictsAbout(judged, 'equipment', circuit.id).filter((each) => each.outcome === 'finding')
  return found.toSorted((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity))[0] ?? null
}

/**
 * The panel as it hangs on the wall: odd positions on the left, even ones on the right, a breaker as high as it has
 * poles, free places left free. A reader of screens and the printer take its table.
 */
export function PanelPicture({ panel, judged }: { panel: EquipmentOf<'panel'>; judged: HomeVerdicts }) {
  const [isTableShown, setTableShown] = useState(false)
  const circuits = inUse(judged.home, 'circuit')
    .filter((each) => each.parentId === panel.id)
    .toSorted((a, b) => (a.details.position ?? 999) - (b.details.position ?? 999))
  const { mainAmps, busAmps, positions = null } = panel.details
  const rating = [mainAmps && `Main ${mainAmps} A`, busAmps && `bus ${busAmps} A`].filter(Boolean).join(', ')
  if (circuits.length === 0) return <p>{rating && `${rating}. `}No circuits are on record.</p>
  const { places, unplaced } = panelLayout(circuits, positions)
  return (
    <>
      {rating && <p>{rating}</p>}
      <div className={css.panel} aria-hidden="true">
        {places.map(({ position, column, row, rows, circuits: here }) => (
          <div
            key={position}
            className={css.place}
            style={{ gridColumn: column, gridRow: `${row} / span ${rows}` }}
          >
            {here.length === 0 && <div className={css.free}>{position}</div>}
            {here.map((circuit) => (
              <Breaker key={circuit.id} circuit={circuit} judged={judged} />
            ))}
          </div>
        ))}
      </div>
      {unplaced.length > 0 && (
        <div aria-hidden="true">
          <p>Position not on record:</p>
          <div className={css.panel}>
            {unplaced.map((circuit) => (
              <div key={circuit.id} className={css.place}>
                <Breaker circuit={circuit} judged={judged} />
              </div>
            ))}
          </div>
        </div>
      )}
      <div className={css.onScreen}>
        <Button onPress={() => setTableShown(!isTableShown)} aria-expanded={isTableShown}>
          {isTableShown ? 'Hide the table' : 'The same as a table'}
        </Button>
      </div>
      <div className={isTableShown ? undefined : css.twin}>
        <CircuitTable circuits={circuits} judged={judged} />
      </div>
    </>
  )
}

function Breaker({ circuit, judged }: { circuit: Circuit; judged: HomeVerdicts }) {
  const { position, ratingAmps, directory } = circuit.details
  const finding = worst(judged, circuit)
  return (
    <div className={css.breaker} data-severity={finding?.severity}>
      <span className={css.position}>{position ?? '?'}</span>
      <span className={css.says}>{directory || '(blank)'}</span>
      {finding && <SeverityMark severity={finding.severity} />}
      <strong>{ratingAmps ?? '?'} A</strong>
    </div>
  )
}

function CircuitTable({ circuits, judged }: { circuits: readonly Circuit[]; judged: HomeVerdicts }) {
  return (
    <Table
      caption="Circuits"
      rows={circuits}
      rowKey={(each) => each.id}
      columns={[
        { name: 'Directory', cell: (each) => each.details.directory || '(blank)' },
        { name: 'Position', cell: (each) => each.details.position, right: true },
        { name: 'Poles', cell: (each) => each.details.poles, right: true },
        {
          name: 'Rating',
          cell: (each) => (each.details.ratingAmps ? `${each.details.ratingAmps} A` : null),
          right: true,
        },
        {
          name: 'Conductor',
          cell: (each) =>
            [each.details.size && sizeLabel(each.details.size), each.details.material]
              .filter(Boolean)
              .join(' ') || null,
        },
        {
          name: 'Finding',
          cell: (each) => {
            const finding = worst(judged, each)
            return finding ? (
              <>
                <SeverityMark severity={finding.severity} /> {finding.technician}
              </>
            ) : (
              'None'
            )
          },
        },
      ]}
    />
  )
}
