import { useId, useState } from 'react'
import type { Field } from '../../../trade/fields.ts'
import { UNITS } from '../../../trade/units.ts'
import css from './field-input.module.css'

/** Any value that a field describes; `null` when it was cleared. Kept when it is chosen, or when typing is over. */
export function FieldInput({
  field,
  value,
  onKeep,
}: {
  field: Field
  value: unknown
  onKeep: (value: unknown) => void
}) {
  const id = useId()
  switch (field.type) {
    case 'yes-no':
      return (
        <Choices
          label={field.label}
          help={field.help}
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
      if (options.length <= 4) {
        return (
          <Choices
            label={field.label}
            help={field.help}
            options={options}
            value={String(value ?? '')}
            onKeep={(chosen) => onKeep(chosen || null)}
          />
        )
      }
      return (
        <div className={css.field}>
          <label htmlFor={id}>{field.label}</label>
          <select
            id={id}
            value={String(value ?? '')}
            onChange={(event) => onKeep(event.target.value || null)}
          >
            <option value="">Not known</option>
            {options.map(([key, words]) => (
              <option key={key} value={key}>
                {words}
              </option>
            ))}
          </select>
          {field.help && <p className={css.help}>{field.help}</p>}
        </div>
      )
    }
    default:
      return <Typed id={id} field={field} value={value} onKeep={onKeep} />
  }
}

function Choices({
  label,
  help,
  options,
  value,
  onKeep,
}: {
  label: string
  help?: string | undefined
  options: readonly (readonly [string, string])[]
  value: string
  onKeep: (value: string) => void
}) {
  return (
    <fieldset className={css.choices}>
      <legend>{label}</legend>
      <div>
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
      {help && <p className={css.help}>{help}</p>}
    </fieldset>
  )
}

function Typed({
  id,
  field,
  value,
  onKeep,
}: {
  id: string
  field: Extract<Field, { type: 'number' | 'text' | 'date' }>
  value: unknown
  onKeep: (value: unknown) => void
}) {
  const stored = value === undefined || value === null ? '' : String(value)
  const [text, setText] = useState<string | null>(null)
  const shown = text ?? stored
  const fault = field.type === 'number' ? numberFault(shown, field) : null
  const unit = field.type === 'number' ? UNITS[field.unit] : ''
  const keep = () => {
    if (text === null) return
    if (!fault && text !== stored)
      onKeep(
        text.trim() === '' ? null : field.type === 'number' ? Number(text.replace(',', '.')) : text.trim(),
      )
    if (!fault) setText(null)
  }
  return (
    <div className={css.field}>
      <label htmlFor={id}>
        {field.label}
        {unit && <span className={css.unit}> in {unit}</span>}
      </label>
      <input
        id={id}
        type={field.type === 'date' ? 'date' : 'text'}
        inputMode={field.type === 'number' ? 'decimal' : 'text'}
        maxLength={field.type === 'text' ? field.maxLength : undefined}
        value={shown}
        aria-invalid={fault ? true : undefined}
        aria-describedby={fault ? `${id}-fault` : undefined}
        onChange={(event) => setText(event.target.value)}
        onBlur={keep}
        onKeyDown={(event) => event.key === 'Enter' && keep()}
      />
      {field.help && <p className={css.help}>{field.help}</p>}
      {fault && (
        <p className={css.fault} id={`${id}-fault`} role="alert">
          {fault}
        </p>
      )}
    </div>
  )
}

function numberFault(
  text: string,
  { min, max, step, unit }: Extract<Field, { type: 'number' }>,
): string | null {
  if (text.trim() === '') return null
  const value = Number(text.replace(',', '.'))
  const range = `${min} to ${max} ${UNITS[unit]}`.trim()
  if (!Number.isFinite(value)) return `Write a number, ${range}.`
  if (value < min || value > max) return `Between ${range}, please.`
  if (step === 1 && !Number.isInteger(value)) return `A whole number, ${range}.`
  return null
}
