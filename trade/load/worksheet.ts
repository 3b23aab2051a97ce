import type { Edition } from '../editions.ts'

export const LOAD_METHODS = {
  standard: 'Standard method',
  optional: 'Optional method for a dwelling',
  existing: 'Existing dwelling, existing and new loads',
} as const
export type LoadMethod = keyof typeof LOAD_METHODS

/** One line of the worksheet as it prints. Lines that are not counted show what goes into a counted one. */
export interface WorksheetLine {
  section: string
  label: string
  /** How the figure comes about: `1,500 ft² × 3 VA`. */
  basis: string
  va: number
  /** Article in NFPA 70 of that edition. */
  article: string
  counted: boolean
}

export interface WorksheetColumn {
  lines: WorksheetLine[]
  totalVA: number
  /** Total at 240 V, to the nearest ampere, halves up. */
  amps: number
}

export interface Worksheet extends WorksheetColumn {
  method: LoadMethod
  edition: Edition
  article: string
  volts: number
  neutral: WorksheetColumn
  /** What was taken for granted, in sentences. */
  assumptions: string[]
}

export type LoadResult =
  { worksheet: Worksheet; missing?: undefined } | { worksheet?: undefined; missing: string[] }

export const SERVICE_VOLTS = 240

/** Adds up the counted lines. NFPA 70 Annex D rounds 77.5 A to 78. */
export function columnOf(lines: WorksheetLine[]): WorksheetColumn {
  const totalVA = exact(lines.reduce((sum, line) => sum + (line.counted ? line.va : 0), 0))
  return { lines, totalVA, amps: ampsAt240(totalVA) }
}

/** `share` of a load. Binary fractions (3,849.9999) would show on the page and could turn a rounding. */
export function shareOf(va: number, share: number): number {
  return exact(va * share)
}

function exact(va: number): number {
  return Math.round(va * 1000) / 1000
}

export function ampsAt240(va: number): number {
  return Math.round(va / SERVICE_VOLTS)
}

/** Made once: making a formatter takes longer than the rest of a worksheet. */
const IN_GROUPS = new Intl.NumberFormat('en-US', { maximumFractionDigits: 1 })

/** `10,000`. */
export function grouped(value: number): string {
  return IN_GROUPS.format(value)
}

export function percent(share: number): string {
  return `${Math.round(share * 100)} %`
}
