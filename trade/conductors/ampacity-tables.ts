import type { Edition } from '../editions.ts'
import type { EditionRow } from '../requirement.ts'
import type { ConductorSize } from './sizes.ts'

/** Amperes at 60, 75 and 90 °C insulation; null where the table prints a dash. */
export type Ampacities = readonly [number | null, number | null, number | null]
/** Copper-clad aluminium shares aluminium's columns. */
export interface AmpacityTable {
  copper: Readonly<Partial<Record<ConductorSize, Ampacities>>>
  aluminium: Readonly<Partial<Record<ConductorSize, Ampacities>>>
}

/** NFPA 70 Table 310-16 as reprinted in an equipment maker's installation manual (1990s), whole. */
const OLDER: AmpacityTable = {
  copper: {
    '18': [null, null, 14],
    '16': [null, null, 18],
    '14': [20, 20, 25],
    '12': [25, 25, 30],
    '10': [30, 35, 40],
    '8': [40, 50, 55],
    '6': [55, 65, 75],
    '4': [70, 85, 95],
    '3': [85, 100, 110],
    '2': [95, 115, 130],
    '1': [110, 130, 150],
    '1/0': [125, 150, 170],
    '2/0': [145, 175, 195],
    '3/0': [165, 200, 225],
    '4/0': [195, 230, 260],
    '250': [215, 255, 290],
    '300': [240, 285, 320],
    '350': [260, 310, 350],
    '400': [280, 335, 380],
    '500': [320, 380, 430],
    '600': [355, 420, 475],
    '700': [385, 460, 520],
    '750': [400, 475, 535],
    '900': [435, 520, 585],
  },
  aluminium: {
    '12': [20, 20, 25],
    '10': [25, 30, 35],
    '8': [30, 40, 45],
    '6': [40, 50, 60],
    '4': [55, 65, 75],
    '3': [65, 75, 85],
    '2': [75, 90, 100],
    '1': [85, 100, 115],
    '1/0': [100, 120, 135],
    '2/0': [115, 135, 150],
    '3/0': [130, 155, 175],
    '4/0': [150, 180, 205],
    '250': [170, 205, 230],
    '300': [190, 230, 255],
    '350': [210, 250, 280],
    '400': [225, 270, 305],
    '500': [260, 310, 350],
    '600': [285, 340, 385],
    '700': [310, 375, 420],
    '750': [320, 385, 435],
    '900': [355, 425, 480],
  },
}

/** What the newer printing changed. IRC 2018 Table E3705.1 to 500 kcmil; 600 copper and 700 aluminium from memory. */
const NEWER: AmpacityTable = {
  copper: {
    ...OLDER.copper,
    '14': [15, 20, 25],
    '12': [20, 25, 30],
    '3': [85, 100, 115],
    '1': [110, 130, 145],
    '600': [350, 420, 475],
  },
  aluminium: {
    ...OLDER.aluminium,
    '12': [15, 20, 25],
    '8': [35, 40, 45],
    '6': [40, 50, 55],
    '300': [195, 230, 260],
    '700': [315, 375, 425],
  },
}

/**
 * Table 310.16 by printing. Printings before 1978 are not at hand: the older table stands in for them, and the
 * small-conductor limits govern its thin sizes anyway.
 */
export const AMPACITY_TABLES: readonly EditionRow<AmpacityTable>[] = [
  { since: '1940', value: OLDER, source: 'reprint of Table 310-16 in an equipment manual' },
  { since: '2011', value: NEWER, source: 'IRC 2018 Table E3705.1; that it came with 2011 from memory' },
]

export const AMPACITY_ARTICLE: readonly EditionRow<string>[] = [
  { since: '1940', value: 'Table 310.16', source: 'from memory' },
  { since: '2011', value: 'Table 310.15(B)(16)', source: 'NFPA 70-2011 to 2017' },
  { since: '2020', value: 'Table 310.16', source: 'NFPA 70-2020' },
]

/** An edition of each printing, for trying both where the edition in force is not known. */
export const EVERY_PRINTING: readonly Edition[] = ['2008', '2023']
