import type { ConductorMaterial, ConductorSize } from './sizes.ts'

interface Row {
  cmil: number
  /** Ω per 1000 ft, direct current, 75 °C; solid is printed for the thin sizes only. */
  copper: { solid?: number; stranded: number }
  aluminium: { solid?: number; stranded: number }
}

const row = (
  cmil: number,
  copper: readonly [number | null, number],
  aluminium: readonly [number | null, number],
): Row => ({
  cmil,
  copper: { ...(copper[0] !== null && { solid: copper[0] }), stranded: copper[1] },
  aluminium: { ...(aluminium[0] !== null && { solid: aluminium[0] }), stranded: aluminium[1] },
})

/**
 * NFPA 70 chapter 9 table 8, uncoated copper and aluminium. 14 AWG to 4/0 from a reference-table page; 18 and 16 AWG
 * and the kcmil sizes from memory. The tests derive every row from wire geometry and conductivity.
 */
export const TABLE_8: Readonly<Record<ConductorSize, Row>> = {
  '18': row(1620, [7.77, 7.95], [12.8, 13.1]),
  '16': row(2580, [4.89, 4.99], [8.05, 8.21]),
  '14': row(4110, [3.07, 3.14], [5.06, 5.17]),
  '12': row(6530, [1.93, 1.98], [3.18, 3.25]),
  '10': row(10380, [1.21, 1.24], [2.0, 2.04]),
  '8': row(16510, [0.764, 0.778], [1.26, 1.28]),
  '6': row(26240, [null, 0.491], [null, 0.808]),
  '4': row(41740, [null, 0.308], [null, 0.508]),
  '3': row(52620, [null, 0.245], [null, 0.403]),
  '2': row(66360, [null, 0.194], [null, 0.319]),
  '1': row(83690, [null, 0.154], [null, 0.253]),
  '1/0': row(105600, [null, 0.122], [null, 0.201]),
  '2/0': row(133100, [null, 0.0967], [null, 0.159]),
  '3/0': row(167800, [null, 0.0766], [null, 0.126]),
  '4/0': row(211600, [null, 0.0608], [null, 0.1]),
  '250': row(250_000, [null, 0.0515], [null, 0.0847]),
  '300': row(300_000, [null, 0.0429], [null, 0.0707]),
  '350': row(350_000, [null, 0.0367], [null, 0.0605]),
  '400': row(400_000, [null, 0.0321], [null, 0.0529]),
  '500': row(500_000, [null, 0.0258], [null, 0.0424]),
  '600': row(600_000, [null, 0.0214], [null, 0.0353]),
  '700': row(700_000, [null, 0.0184], [null, 0.0303]),
  '750': row(750_000, [null, 0.0171], [null, 0.0282]),
  '900': row(900_000, [null, 0.0143], [null, 0.0235]),
}

/** Temperature of the table, and its note's coefficients per °C at that temperature. From memory; equal to
 *  α20/(1 + 55·α20) with 0.00393 for copper and 0.00403 for aluminium. */
const TABLE_C = 75
const COEFFICIENT_AT_TABLE_C = { copper: 0.00323, aluminium: 0.0033 }

/** Copper-clad aluminium has no column; it conducts a little better than aluminium, so that column errs safely. */
function column(material: ConductorMaterial): 'copper' | 'aluminium' {
  return material === 'copper' ? 'copper' : 'aluminium'
}

/**
 * Resistance in Ω per 1000 ft of one conductor at `conductorC`. Where the stranding is not known, or the table prints
 * no solid wire of that size, the stranded value stands: it is 2 % higher.
 */
export function resistancePerKft(
  size: ConductorSize,
  material: ConductorMaterial,
  { stranded, conductorC = TABLE_C }: { stranded?: boolean; conductorC?: number } = {},
): number {
  const printed = TABLE_8[size][column(material)]
  const at75 = stranded === false ? (printed.solid ?? printed.stranded) : printed.stranded
  return at75 * (1 + COEFFICIENT_AT_TABLE_C[column(material)] * (conductorC - TABLE_C))
}

/** The K of the trade's drop formula: Ω·cmil per foot of stranded wire at 75 °C (12.9 copper, 21.2 aluminium). */
export function kFactor(size: ConductorSize, material: ConductorMaterial): number {
  return (TABLE_8[size][column(material)].stranded * TABLE_8[size].cmil) / 1000
}
