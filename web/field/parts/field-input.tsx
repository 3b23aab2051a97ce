import { useId, useState } from 'react'
import type { Field } from '../../../trade/fields.ts'
import { UNITS } from '../../../trade/units.ts'
import css from './field-input.module.css'
import { numberFault, numberOf } from './number-words.ts'
import { useKept } from './use-kept.ts'

/** A choice of so many is pressed; a longer one is picked from a list. */
const PRESSED = 4

/** Any value that a field describes; `null` when it was cleared. Kept when it is chosen, or when typing is over. */
export function FieldInput({
  field,
  value,
  onKeep,
}: {
  field: Field
  value: unknown
  /** Rejects when it could not be kept: what was typed then stays in the field. */
  onKeep: (value: unknown) => void | Promise<void>
}) {
  switch (field.type) {
    case 'yes-no':
      return (
        <Choices
          label={field.label}
          help={field.help}
          isShort
          options={[
            ['true', 'Yes'],
            ['false', 'No'],
          ]}
          value={value === undefined || value === null ? '' : String(value)}
          onKeep={(chosen) => onKeep(chosen === '' ? null : chosen === 'true')}
        />
      )
    case 'choice': {
      const options = Object.entries(field.options)
      const shared = { label: field.label, help: field.help, options, value: String(value ?? '') }
      const keep = (chosen: string) => onKeep(chosen || null)
      return options.length <= PRESSED ? (
        <Choices {...shared} onKeep={keep} />
      ) : (
        <Picked {...shared} onKeep={keep} />
      )
    }
    default:
      return <Typed field={field} value={value} onKeep={onKeep} />
  }
}

interface Choosing {
  label: string
  help?: string | undefined
  options: readonly (readonly [string, string])[]
  value: string
  onKeep: (value: string) => void
}

function Choices({ label, help, options, value, onKeep, isShort }: Choosing & { isShort?: boolean }) {
  const id = useId()
  return (
    <div
      className={css.choices}
      data-wide
      data-short={isShort || undefined}
      role="group"
      aria-labelledby={id}
      aria-describedby={help ? `${id}-help` : undefined}
    >
      <div>
        <span className={css.label} id={id}>
          {label}
        </span>
        {help && (
          <p className={css.help} id={`${id}-help`}>
            {help}
          </p>
        )}
      </div>
      <div className={css.options}>
        {options.map(([key, words]) => (
          // Pressed again, it is not known any more.
          <button
            key={key}
            type="button"
            className="press"
            aria-pressed={value === key}
            onClick={() => onKeep(value === key ? '' : key)}
          >
            {words}
          </button>
        ))}
      </div>
    </div>
  )
}

function Picked({ label, help, options, value, onKeep }: Choosing) {
  const id = useId()
  return (
    <div className={css.field} data-wide>
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-describedby={help ? `${id}-help` : undefined}
        onChange={(event) => onKeep(event.target.value)}
      >
        <option value="">Not known</option>
        {options.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
      {help && (
        <p className={css.help} id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  )
}

function Typed({
  field,
  value,
  onKeep,
}: {
  field: Extract<Field, { type: 'number' | 'text' | 'date' }>
  value: unknown
  onKeep: (value: unknown) => void | Promise<void>
}) {
  const id = useId()
  const stored = value === undefined || value === null ? '' : String(value)
  const [text, setText] = useState<string | null>(null)
  const shown = text ?? stored
  const fault = field.type === 'number' ? numberFault(shown, field) : null
  const unit = field.type === 'number' ? UNITS[field.unit] : ''
  const keepNow = useKept(fault || text?.trim() === stored ? null : text, (typed) =>
    onKeep(typed.trim() === '' ? null : field.type === 'number' ? numberOf(typed) : typed.trim()),
  )
  const leave = async () => {
    await keepNow()
    // Only now: had it not been kept, it would have to be typed again. And not what was typed meanwhile.
    if (!fault) setText((now) => (now === text ? null : now))
  }
  const described = [field.help && `${id}-help`, fault && `${id}-fault`].filter(Boolean).join(' ')
  return (
    <div className={css.field} data-wide={field.type === 'text' || undefined}>
      <label htmlFor={id}>
        {field.label}
        {unit && <span className={css.unit}> ({unit})</span>}
      </label>
      <input
        id={id}
        type={field.type === 'date' ? 'date' : 'text'}
        inputMode={field.type === 'number' ? 'decimal' : 'text'}
        maxLength={field.type === 'text' ? field.maxLength : undefined}
        value={shown}
        aria-invalid={fault ? true : undefined}
        aria-describedby={described || undefined}
        onChange={(event) => setText(event.target.value)}
        onBlur={() => void leave()}
        onKeyDown={(event) => event.key === 'Enter' && void leave()}
      />
      {field.help && (
        <p className={css.help} id={`${id}-help`}>
          {field.help}
        </p>
      )}
      {fault && (
        <p className={css.fault} id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
    </div>
  )
}
