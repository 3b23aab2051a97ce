import { type ReactNode, useId } from 'react'
import css from './fields.module.css'

interface Common {
  label: string
  help?: ReactNode
  /** What is wrong with it, in words; shown under the field and read out with it. */
  fault?: string | undefined
  required?: boolean
  disabled?: boolean
  name?: string
  /** Takes less width than the whole row. */
  narrow?: boolean
}

function Frame({
  label,
  help,
  fault,
  required,
  narrow,
  id,
  children,
}: Common & { id: string; children: ReactNode }) {
  return (
    <div className={css.field} data-narrow={narrow || undefined}>
      <label htmlFor={id}>
        {label}
        {required && <span aria-hidden="true"> *</span>}
      </label>
      {children}
      {help && (
        <p className={css.help} id={`${id}-help`}>
          {help}
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

function aria(id: string, { help, fault, required }: Common) {
  const described = [help && `${id}-help`, fault && `${id}-fault`].filter(Boolean).join(' ')
  return {
    id,
    'aria-describedby': described || undefined,
    'aria-invalid': fault ? true : undefined,
    required,
  }
}

type TextType = 'text' | 'email' | 'tel' | 'password' | 'search' | 'date' | 'time' | 'number'

export function TextField({
  value,
  onChange,
  type = 'text',
  autoComplete,
  inputMode,
  min,
  max,
  step,
  maxLength,
  autoFocus,
  ...common
}: Common & {
  value: string
  onChange: (value: string) => void
  type?: TextType
  autoComplete?: string
  inputMode?: 'numeric' | 'decimal' | 'tel' | 'email'
  min?: string | number
  max?: string | number
  step?: string | number
  maxLength?: number
  autoFocus?: boolean
}) {
  const id = useId()
  return (
    <Frame {...common} id={id}>
      <input
        {...aria(id, common)}
        name={common.name}
        className={css.input}
        type={type}
        value={value}
        disabled={common.disabled}
        autoComplete={autoComplete}
        inputMode={inputMode}
        min={min}
        max={max}
        step={step}
        maxLength={maxLength}
        autoFocus={autoFocus}
        onChange={(event) => onChange(event.target.value)}
      />
    </Frame>
  )
}

export function TextArea({
  value,
  onChange,
  rows = 3,
  maxLength,
  ...common
}: Common & { value: string; onChange: (value: string) => void; rows?: number; maxLength?: number }) {
  const id = useId()
  return (
    <Frame {...common} id={id}>
      <textarea
        {...aria(id, common)}
        name={common.name}
        className={css.input}
        rows={rows}
        maxLength={maxLength}
        value={value}
        disabled={common.disabled}
        onChange={(event) => onChange(event.target.value)}
      />
    </Frame>
  )
}

export function SelectField({
  value,
  onChange,
  options,
  empty,
  ...common
}: Common & {
  value: string
  onChange: (value: string) => void
  options: Readonly<Record<string, string>> | readonly (readonly [string, string])[]
  /** Words for "none chosen"; left out, one must be chosen. */
  empty?: string
}) {
  const id = useId()
  const entries = Array.isArray(options) ? options : Object.entries(options)
  return (
    <Frame {...common} id={id}>
      <select
        {...aria(id, common)}
        name={common.name}
        className={css.input}
        value={value}
        disabled={common.disabled}
        onChange={(event) => onChange(event.target.value)}
      >
        {empty !== undefined && <option value="">{empty}</option>}
        {entries.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </Frame>
  )
}

export function CheckField({
  label,
  checked,
  onChange,
  help,
  disabled,
}: {
  label: ReactNode
  checked: boolean
  onChange: (checked: boolean) => void
  help?: string
  disabled?: boolean
}) {
  const id = useId()
  return (
    <div className={css.check}>
      <input
        id={id}
        type="checkbox"
        checked={checked}
        disabled={disabled}
        aria-describedby={help ? `${id}-help` : undefined}
        onChange={(event) => onChange(event.target.checked)}
      />
      <label htmlFor={id}>{label}</label>
      {help && (
        <p className={css.help} id={`${id}-help`}>
          {help}
        </p>
      )}
    </div>
  )
}

/** Fields side by side where there is room, one under another on a phone. */
export function FieldRow({ children }: { children: ReactNode }) {
  return <div className={css.row}>{children}</div>
}

/** Fields or things that belong together, under the words that stand for all of them. */
export function FieldGroup({ legend, children }: { legend: string; children: ReactNode }) {
  return (
    <fieldset className={css.group}>
      <legend>{legend}</legend>
      {children}
    </fieldset>
  )
}
