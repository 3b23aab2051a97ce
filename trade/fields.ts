import type { Day } from './dates.ts'
import type { Unit } from './units.ts'

/**
 * What can be written down about a thing, as data: the form in the browser, the schema at the door and the type in
 * the code all come from one list of fields. Every field may be left out: what is not known stays unknown, and a rule
 * that needs it answers "undetermined".
 */
export type Field = ChoiceField | NumberField | TextField | DateField | YesNoField

interface Described {
  label: string
  /** One line beside the field: how to read it, where to look. */
  help?: string
}
export interface ChoiceField<Option extends string = string> extends Described {
  type: 'choice'
  /** stored value → words on the screen */
  options: Readonly<Record<Option, string>>
}
export interface NumberField extends Described {
  type: 'number'
  unit: Unit
  min: number
  max: number
  /** 1 where only whole numbers make sense */
  step?: number
}
export interface TextField extends Described {
  type: 'text'
  maxLength: number
}
export interface DateField extends Described {
  type: 'date'
}
export interface YesNoField extends Described {
  type: 'yes-no'
}

export type Fields = Readonly<Record<string, Field>>

export type ValueOf<F extends Field> =
  F extends ChoiceField<infer Option>
    ? Option
    : F extends NumberField
      ? number
      : F extends DateField
        ? Day
        : F extends YesNoField
          ? boolean
          : string

/** The record that a list of fields describes; every part may be unknown. */
export type ValuesOf<F extends Fields> = { -readonly [Name in keyof F]?: ValueOf<F[Name]> }

export function choice<const Option extends string>(
  label: string,
  options: Readonly<Record<Option, string>>,
  help?: string,
): ChoiceField<Option> {
  return { type: 'choice', label, options, ...(help && { help }) }
}

export function number(
  label: string,
  unit: Unit,
  min: number,
  max: number,
  more: { step?: number; help?: string } = {},
): NumberField {
  return { type: 'number', label, unit, min, max, ...more }
}

export function count(label: string, min: number, max: number, help?: string): NumberField {
  return { type: 'number', label, unit: 'count', min, max, step: 1, ...(help && { help }) }
}

export function text(label: string, maxLength = 200, help?: string): TextField {
  return { type: 'text', label, maxLength, ...(help && { help }) }
}

export function date(label: string, help?: string): DateField {
  return { type: 'date', label, ...(help && { help }) }
}

export function yesNo(label: string, help?: string): YesNoField {
  return { type: 'yes-no', label, ...(help && { help }) }
}
