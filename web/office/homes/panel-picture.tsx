import type { EquipmentOf } from '../../../trade/equipment.ts'
import { sizeLabel } from '../../../trade/conductors/sizes.ts'
import { inUse } from '../../../trade/home.ts'
import { SEVERITIES, type FindingVerdict } from '../../../trade/verdict.ts'
import type { HomeVerdicts } from '../../../trade/whole-home/evaluate.ts'
import { verdictsAbout } from '../../../trade/whole-home/verdicts.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Table } from '../../shared/ui/table.tsx'
import css from './home-pictures.module.css'

type Circuit = EquipmentOf<'circuit'>

/** The gravest thing that the rules find at a circuit. */
function worst(judged: HomeVerdicts, circuit: Circuit): FindingVerdict | null {
  const found = verdictsAbout(judged, 'equipment', circuit.id).filter((each) => each.outcome === 'finding')
  return found.toSorted((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity))[0] ?? null
}

/** The panel as it hangs on the wall: odd positions on the left, even ones on the right; two poles take two rows. */
export function PanelPicture({ panelId, judged }: { panelId: string; judged: HomeVerdicts }) {
  const circuits = inUse(judged.home, 'circuit')
    .filter((each) => each.parentId === panelId)
    .toSorted((a, b) => (a.details.position ?? 999) - (b.details.position ?? 999))
  if (circuits.length === 0) return <p>No circuits are on record.</p>
  return (
    <>
      <div className={css.panel} aria-hidden="true">
        {circuits.map((circuit) => {
          const { position = 1, poles = 1, ratingAmps } = circuit.details
          const finding = worst(judged, circuit)
          return (
            <div
              key={circuit.id}
              className={css.breaker}
              data-severity={finding?.severity}
              style={{
                gridColumn: position % 2 === 1 ? 1 : 2,
                gridRow: `${Math.ceil(position / 2)} / span ${poles}`,
              }}
            >
              <span className={css.position}>{position}</span>
              <span className={css.says}>{circuit.details.directory || '(blank)'}</span>
              {finding && <SeverityMark severity={finding.severity} />}
              <strong>{ratingAmps ?? '?'} A</strong>
            </div>
          )
        })}
      </div>
      <details>
        <summary>The same as a table</summary>
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
      </details>
    </>
  )
}
