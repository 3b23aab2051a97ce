import { choice } from '../fields.ts'

/** Sizes met in homes, thinnest first: AWG to 4/0, then kcmil. */
export const CONDUCTOR_SIZES = [
  '18',
  '16',
  '14',
  '12',
  '10',
  '8',
  '6',
  '4',
  '3',
  '2',
  '1',
  '1/0',
  '2/0',
  '3/0',
  '4/0',
  '250',
  '300',
  '350',
  '400',
  '500',
  '600',
  '700',
  '750',
  '900',
] as const
export type ConductorSize = (typeof CONDUCTOR_SIZES)[number]

export const CONDUCTOR_MATERIALS = {
  copper: 'Copper',
  aluminium: 'Aluminium',
  'copper-clad': 'Copper-clad aluminium',
} as const
export type ConductorMaterial = keyof typeof CONDUCTOR_MATERIALS

/** How thick a size is among its fellows; a larger rank is a larger conductor. */
export function sizeRank(size: ConductorSize): number {
  return CONDUCTOR_SIZES.indexOf(size)
}

export function isKcmil(size: ConductorSize): boolean {
  return sizeRank(size) >= CONDUCTOR_SIZES.indexOf('250')
}

/** `12 AWG`, `4/0 AWG`, `250 kcmil`. */
export function sizeLabel(size: ConductorSize): string {
  return `${size} ${isKcmil(size) ? 'kcmil' : 'AWG'}`
}

export const sizeField = (label: string, help?: string) =>
  choice(
    label,
    Object.fromEntries(CONDUCTOR_SIZES.map((size) => [size, sizeLabel(size)])) as Record<
      ConductorSize,
      string
    >,
    help,
  )

export const materialField = (label: string, help?: string) => choice(label, CONDUCTOR_MATERIALS, help)
