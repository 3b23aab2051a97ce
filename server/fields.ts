import { z } from 'zod'
import { type Day, parseDay } from '../trade/dates.ts'
import type { Field, Fields } from '../trade/fields.ts'
import { UNITS } from '../trade/units.ts'

/** Text as people type it: trimmed, no longer than its column, without the zero byte that PostgreSQL cannot keep. */
export const textSchema = (maxLength: number, minLength = 0) =>
  z
    .string({ error: 'expected text' })
    .trim()
    .min(minLength, {
      error: minLength === 1 ? 'must not be empty' : `expected ${minLength} letters or more`,
    })
    .max(maxLength, { error: `expected ${maxLength} letters or fewer` })
    .refine((value) => !value.includes('\0'), { error: 'contains a zero byte, which cannot be stored' })

/** A calendar day that exists, from 1600 on. */
export const daySchema = z
  .string({ error: 'expected a day, such as 2026-03-31' })
  .refine((value) => parseDay(value) !== null && value >= '1600', {
    error: 'expected a day that exists, such as 2026-03-31',
  })
  .transform((value) => value as Day)
  .meta({ format: 'date' })

/** Wall-clock time in the property's zone. */
export const timeSchema = z
  .string()
  .regex(/^([01]\d|2[0-3]):[0-5]\d$/, { error: 'expected a time from 00:00 to 23:59, such as 09:30' })

export const phoneSchema = textSchema(40).refine(
  (value) => /^[\d\s()+./x-]+$/i.test(value) && /(\D*\d){5}/.test(value),
  { error: 'expected a phone number of five digits or more, such as 555-0123' },
)

/** `yes` and `no` of a query, which knows only text. */
export const yesNoQuery = z
  .enum(['yes', 'no'], { error: 'expected yes or no' })
  .transform((value) => value === 'yes')

/** The keys of a table of words, as an enum wants them. */
export const keysOf = <Key extends string>(words: Readonly<Record<Key, unknown>>) =>
  Object.keys(words) as [Key, ...Key[]]

/** An instant in a request. */
export const instantSchema = z.iso.datetime({
  offset: true,
  error: 'expected an instant, such as 2026-03-14T15:09:26Z',
})

/** An object whose shape the trade knows, and its tests. */
export const openJson = z.record(z.string(), z.unknown())

/** What answers carry: an instant as ISO text in UTC, a day as YYYY-MM-DD. */
export const instantOut = z.string().meta({ format: 'date-time' })
export const dayOut = z.string().meta({ format: 'date' })

type Values = Record<string, string | number | boolean>

/**
 * The schema at the door for what `trade/` lists as fields: a strict object in which each may be left out. A fault
 * names the field as the screen does, and what is allowed.
 */
export function fieldsSchema(fields: Fields): z.ZodType<Values, Values> {
  const shape = Object.entries(fields).map(([name, field]) => [name, fieldSchema(field).optional()])
  return z.strictObject(Object.fromEntries(shape)) as unknown as z.ZodType<Values, Values>
}

function fieldSchema(field: Field): z.ZodType {
  switch (field.type) {
    case 'choice': {
      const options = Object.keys(field.options) as [string, ...string[]]
      return z.enum(options, { error: `${field.label}: expected one of ${options.join(', ')}` })
    }
    case 'number': {
      const whole = field.step === 1
      const unit = UNITS[field.unit] && ` ${UNITS[field.unit]}`
      const error = `${field.label}: expected a ${whole ? 'whole ' : ''}number from ${field.min} to ${field.max}${unit}`
      const number = z.number({ error }).min(field.min, { error }).max(field.max, { error })
      return whole ? number.int({ error }) : number
    }
    case 'text':
      return z
        .string({ error: `${field.label}: expected text` })
        .trim()
        .max(field.maxLength, { error: `${field.label}: expected ${field.maxLength} letters or fewer` })
        .refine((value) => !value.includes('\0'), {
          error: `${field.label}: contains a zero byte, which cannot be stored`,
        })
    case 'date':
      return z
        .string({ error: `${field.label}: expected a day, such as 2026-03-31` })
        .refine((value) => parseDay(value) !== null, {
          error: `${field.label}: expected a day that exists, such as 2026-03-31`,
        })
        .meta({ format: 'date' })
    case 'yes-no':
      return z.boolean({ error: `${field.label}: expected yes (true) or no (false)` })
  }
}
