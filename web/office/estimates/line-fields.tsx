import { PRICE_UNITS } from '../../../trade/estimates/money.ts'
import { SeverityMark } from '../../shared/severity.tsx'
import { Button } from '../../shared/ui/button.tsx'
import { FieldRow, TextField } from '../../shared/ui/fields.tsx'
import css from './estimate.module.css'
import type { LineDraft, LineFaults } from './line-draft.ts'

/** One line while it is written. */
export function LineFields({
  line,
  number,
  isLast,
  faults,
  total,
  onChange,
  onMove,
  onRemove,
}: {
  line: LineDraft
  number: number
  isLast: boolean
  faults: LineFaults
  /** In words; null while something cannot be read. */
  total: string | null
  onChange: (change: Partial<LineDraft>) => void
  onMove: (by: -1 | 1) => void
  onRemove: () => void
}) {
  return (
    <li className={css.line} aria-label={`Line ${number}`}>
      {line.finding && (
        <p className={css.finding}>
          <SeverityMark severity={line.finding.severity} /> {line.finding.text}
        </p>
      )}
      <TextField
        label="What is done"
        value={line.description}
        onChange={(description) => onChange({ description })}
        fault={faults.description}
        maxLength={500}
        required
      />
      <FieldRow>
        <TextField
          label={line.priceItem ? `How many (${PRICE_UNITS[line.priceItem.unit].toLowerCase()})` : 'How many'}
          inputMode="decimal"
          value={line.quantity}
          onChange={(quantity) => onChange({ quantity })}
          fault={faults.quantity}
          required
        />
        <TextField
          label="Price without tax"
          value={line.price}
          onChange={(price) => onChange({ price })}
          fault={faults.price}
          required
        />
        <TextField
          label="Tax in per cent"
          inputMode="decimal"
          value={line.tax}
          onChange={(tax) => onChange({ tax })}
          fault={faults.tax}
          required
        />
        <TextField
          label="Option"
          value={line.option}
          onChange={(option) => onChange({ option })}
          help="Lines of one name are taken or left together"
          maxLength={60}
        />
      </FieldRow>
      <div className={css.foot}>
        <p>
          Without tax <strong>{total ?? '—'}</strong>
        </p>
        <div className={css.acts}>
          <Button small isDisabled={number === 1} onPress={() => onMove(-1)} aria-label={`Line ${number} up`}>
            Up
          </Button>
          <Button small isDisabled={isLast} onPress={() => onMove(1)} aria-label={`Line ${number} down`}>
            Down
          </Button>
          <Button small onPress={onRemove} aria-label={`Remove line ${number}`}>
            Remove
          </Button>
        </div>
      </div>
    </li>
  )
}
