/** Money is whole cents everywhere, quantities whole thousandths, taxes basis points: no fraction is ever a float. */

/** What one price is for. */
export const PRICE_UNITS = { each: 'Each', hour: 'Hour', foot: 'Foot' } as const
export type PriceUnit = keyof typeof PRICE_UNITS

/**
 * Largest amounts that are taken, so that every product stays a whole number that a double holds exactly: their product
 * is 10^15, and the last of these is 9 × 10^15. The figures: own choice.
 */
export const MOST_CENTS = 10_000_000
export const MOST_THOUSANDTHS = 10_000_000
export const MOST_BASIS_POINTS = 10_000

export interface PricedLine {
  /** 2500 = two and a half. */
  quantityThousandths: number
  /** For one unit; below zero for a reduction. */
  priceCents: number
  /** 825 = 8.25 %. */
  taxBasisPoints: number
}

export interface Sums {
  netCents: number
  taxCents: number
  totalCents: number
}

/**
 * A whole quotient, halves away from zero: up to the next cent whenever the third decimal is greater than four, as the
 * Streamlined Sales and Use Tax Agreement §324 has it; below zero the same the other way round (common practice, no
 * source).
 */
function roundedQuotient(dividend: number, divisor: number): number {
  const size = Math.abs(dividend)
  const rest = size % divisor
  const whole = (size - rest) / divisor + (rest * 2 >= divisor ? 1 : 0)
  return dividend < 0 && whole !== 0 ? -whole : whole
}

export function lineNetCents({
  quantityThousandths,
  priceCents,
}: Omit<PricedLine, 'taxBasisPoints'>): number {
  return roundedQuotient(quantityThousandths * priceCents, 1000)
}

/** By line and not by the whole: SSUTA §324 B leaves the choice, and this way what is left out takes its own tax along. */
export function lineTaxCents(line: PricedLine): number {
  return roundedQuotient(lineNetCents(line) * line.taxBasisPoints, 10_000)
}

export function sumsOf(lines: readonly PricedLine[]): Sums {
  const sum = (of: (line: PricedLine) => number) => lines.reduce((so, line) => so + of(line), 0)
  const [netCents, taxCents] = [sum(lineNetCents), sum(lineTaxCents)]
  return { netCents, taxCents, totalCents: netCents + taxCents }
}

/** `$1,450.50`, `−$20.00`: the same in the English and the Spanish of the United States. */
export function moneyInWords(cents: number): string {
  const size = Math.abs(cents)
  const dollars = String(Math.floor(size / 100)).replace(/\B(?=(\d{3})+$)/g, ',')
  return `${cents < 0 ? '−' : ''}$${dollars}.${String(size % 100).padStart(2, '0')}`
}

/** As somebody types it back: `1450.50`, without signs that would have to be deleted first. */
export const typedMoney = (cents: number) => typed(cents, 2, 2)
/** `2.5`, `1`, `0.125`. */
export const typedQuantity = (thousandths: number) => typed(thousandths, 3, 0)
/** `8.25`, `7`: per cent. */
export const typedPercent = (basisPoints: number) => typed(basisPoints, 2, 0)

function typed(value: number, decimals: number, atLeast: number): string {
  const digits = String(Math.abs(value)).padStart(decimals + 1, '0')
  const [whole, part] = [digits.slice(0, -decimals), digits.slice(-decimals)]
  const kept = part.replace(/0+$/, '').padEnd(atLeast, '0')
  return `${value < 0 ? '-' : ''}${whole}${kept && `.${kept}`}`
}

/** Cents of `145`, `145.00`, `$1,450.50`, `-20`; null where it cannot be read, or is more than is taken. */
export function readMoney(text: string): number | null {
  const plain = text
    .trim()
    .replace('−', '-')
    .replace(/^(-?)\$/, '$1')
  const grouped = /^-?\d{1,3}(,\d{3})+(\.\d*)?$/.test(plain) ? plain.replaceAll(',', '') : plain
  return read(grouped, 2, -MOST_CENTS, MOST_CENTS)
}

/** Thousandths of `1`, `2.5`, `0.125`: more than nothing. */
export const readQuantity = (text: string) => read(text.trim(), 3, 1, MOST_THOUSANDTHS)

/** Basis points of `8.25` or `8.25 %`. */
export const readPercent = (text: string) => read(text.trim().replace(/\s*%$/, ''), 2, 0, MOST_BASIS_POINTS)

function read(text: string, decimals: number, least: number, most: number): number | null {
  const [, minus, whole, part = ''] = /^(-?)(\d{1,9})(?:\.(\d*))?$/.exec(text) ?? []
  if (whole === undefined || part.length > decimals) return null
  const size = Number(whole + part.padEnd(decimals, '0'))
  const value = minus && size !== 0 ? -size : size
  return value >= least && value <= most ? value : null
}
