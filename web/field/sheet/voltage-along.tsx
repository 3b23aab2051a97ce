import { useState } from 'react'
import { locatedAlong, type Point, readPoints, writePoints } from '../../../trade/voltage-drop/points.ts'
import css from './voltage-along.module.css'

const BLANK: Point = { name: '', volts: null, loadedVolts: null }
const MOST = 30

interface Row {
  name: string
  volts: string
  loadedVolts: string
}
const rowOf = ({ name, volts, loadedVolts }: Point): Row => ({
  name,
  volts: volts === null ? '' : String(volts),
  loadedVolts: loadedVolts === null ? '' : String(loadedVolts),
})
const voltsOf = (text: string): number | null => {
  const value = Number(text.replace(',', '.'))
  return text.trim() !== '' && Number.isFinite(value) && value >= 0 && value <= 300 ? value : null
}
const pointOf = ({ name, volts, loadedVolts }: Row): Point => ({
  name,
  volts: voltsOf(volts),
  loadedVolts: voltsOf(loadedVolts),
})

/** Outlet by outlet from the panel: where along the circuit the voltage is lost. */
export function VoltageAlong({
  text,
  onKeep,
  onNote,
}: {
  text: string
  onKeep: (text: string | null) => void
  onNote: (words: string) => void
}) {
  const [rows, setRows] = useState<Row[]>(() => [...readPoints(text), BLANK, BLANK].slice(0, MOST).map(rowOf))
  const filled = (all: readonly Row[]) => all.filter((row) => row.name || row.volts || row.loadedVolts)
  const found = locatedAlong(filled(rows).map(pointOf))
  const change = (at: number, part: Partial<Row>) =>
    setRows((before) => before.map((row, i) => (i === at ? { ...row, ...part } : row)))
  const keep = () => {
    const written = writePoints(filled(rows).map(pointOf))
    if (written !== text) onKeep(written || null)
  }
  return (
    <details className={css.along} open={text !== ''} onBlur={keep}>
      <summary>Locate a voltage drop along the circuit</summary>
      <div className={css.inside}>
        <p className="soft">
          Outlet by outlet, in order from the panel: the voltage without load, then under the tester’s load.
        </p>
        <ol>
          {rows.map((row, i) => (
            <li key={i}>
              <Cell label={`Outlet ${i + 1}`} value={row.name} onChange={(name) => change(i, { name })} />
              <Cell label="No load V" value={row.volts} onChange={(volts) => change(i, { volts })} isNumber />
              <Cell
                label="Loaded V"
                value={row.loadedVolts}
                onChange={(loadedVolts) => change(i, { loadedVolts })}
                isNumber
              />
            </li>
          ))}
        </ol>
        {rows.length < MOST && (
          <button
            type="button"
            className="press"
            onClick={() => setRows((before) => [...before, rowOf(BLANK)])}
          >
            Another outlet
          </button>
        )}
        <p role="status">
          {found ? (
            <strong>{found.words}</strong>
          ) : (
            <span className="soft">Two measured outlets are needed.</span>
          )}
        </p>
        {found && (
          <button type="button" className="press" onClick={() => onNote(found.words)}>
            Put this into the note
          </button>
        )}
      </div>
    </details>
  )
}

function Cell({
  label,
  value,
  onChange,
  isNumber,
}: {
  label: string
  value: string
  onChange: (value: string) => void
  isNumber?: boolean
}) {
  const isWrong = isNumber && value.trim() !== '' && voltsOf(value) === null
  return (
    <label>
      {label}
      <input
        value={value}
        inputMode={isNumber ? 'decimal' : 'text'}
        maxLength={isNumber ? 6 : 60}
        aria-invalid={isWrong || undefined}
        onChange={(event) => onChange(event.target.value)}
      />
      {isWrong && <span className="fault">0 to 300</span>}
    </label>
  )
}
