import type { NumberField } from '../../../trade/fields.ts'
import { UNITS } from '../../../trade/units.ts'

/** A number as people type or dictate it: `121,4`, `121.4 V`, `121.4 volts`. NaN when it is none. */
export function numberOf(text: string): number {
  const bare = text
    .trim()
    .replace(',', '.')
    .replace(/\s*[a-z°Ω%·"']+(?:[ ·][a-z]+)?\.?$/i, '')
  return /^[+-]?(?:\d+\.?\d*|\.\d+)$/.test(bare) ? Number(bare) : NaN
}

/** What is wrong with a number, in words for whoever types it; null when nothing is. */
export function numberFault(text: string, { min, max, step, unit }: NumberField): string | null {
  if (text.trim() === '') return null
  const value = numberOf(text)
  const range = `${min} to ${max} ${UNITS[unit]}`.trim()
  if (!Number.isFinite(value)) return `Write a number, ${range}.`
  if (value < min || value > max) return `Between ${range}, please.`
  if (step === 1 && !Number.isInteger(value)) return `A whole number, ${range}.`
  return null
}
