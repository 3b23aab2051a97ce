import { describe, expect, test } from 'vitest'
import { circularMils, diameterInches, gaugeNumber } from '../../../trade/conductors/geometry.ts'
import { kFactor, resistancePerKft, TABLE_8 } from '../../../trade/conductors/resistance.ts'
import {
  CONDUCTOR_SIZES,
  type ConductorMaterial,
  type ConductorSize,
  isKcmil,
} from '../../../trade/conductors/sizes.ts'

describe('geometry', () => {
  test.each<[ConductorSize, number, number]>([
    ['14', 0.06408, 4107],
    ['12', 0.08081, 6530],
    ['4/0', 0.46, 211_600],
  ])('ASTM B258: %s AWG is %f in and %i cmil', (size, inches, cmil) => {
    expect(diameterInches(size)).toBeCloseTo(inches, 5)
    expect(Math.round(circularMils(size))).toBe(cmil)
  })

  test.each<[ConductorSize, number | null]>([
    ['18', 18],
    ['1', 1],
    ['1/0', 0],
    ['2/0', -1],
    ['3/0', -2],
    ['4/0', -3],
    ['250', null],
  ])('ASTM B258: %s has gauge number %s', (size, gauge) => {
    expect(gaugeNumber(size)).toBe(gauge)
  })

  test('ASTM B258: each step up to 4/0 is thicker by 92^(1/39) = 1.1229322', () => {
    expect(diameterInches('12') / diameterInches('14')).toBeCloseTo(1.1229322 ** 2, 6)
    expect(diameterInches('1/0') / diameterInches('1')).toBeCloseTo(1.1229322, 6)
  })

  test('ASTM B258 solved for the gauge: n = 36 − 39 · log92(d / 0.005 in) leads back to every size', () => {
    for (const size of CONDUCTOR_SIZES.filter((each) => !isKcmil(each))) {
      const inches = Math.sqrt(circularMils(size)) / 1000
      expect(36 - (39 * Math.log(inches / 0.005)) / Math.log(92)).toBeCloseTo(gaugeNumber(size)!, 9)
      expect(inches).toBeCloseTo(diameterInches(size), 12)
    }
  })

  // NIST SP 811: 1 in is 25.4 mm. A wire of 1 kcmil of solid copper is 0.5067 mm².
  test.each<[ConductorSize, number]>([
    ['14', 2.08],
    ['12', 3.31],
    ['4/0', 107.2],
    ['250', 126.7],
  ])('NFPA 70 chapter 9 table 8 in millimetres: %s is %f mm²', (size, squareMillimetres) => {
    const area = (Math.PI / 4) * (diameterInches(size) * 25.4) ** 2
    expect(Math.abs(area / squareMillimetres - 1)).toBeLessThan(0.002)
    expect((area * 1e6) / ((Math.PI / 4) * 25.4 ** 2)).toBeCloseTo(circularMils(size), 3)
  })

  test('a kcmil size is its own area: 250 kcmil is 0.5 in of solid copper', () => {
    expect(circularMils('250')).toBe(250_000)
    expect(diameterInches('250')).toBeCloseTo(0.5, 6)
  })
})

/** IEC 1913 / NBS Circular 31: 100 % IACS is 58 MS/m at 20 °C, 10.371 Ω·cmil/ft. Aluminium wire 61 % (NBS Hdbk 109). */
const OHM_CMIL_PER_FOOT = { copper: 10.371, aluminium: 10.371 / 0.61 }
/** Copper NBS Handbook 100; aluminium from memory. */
const ALPHA_20 = { copper: 0.00393, aluminium: 0.00403 }
/** Strands are twisted and so longer than the conductor: 2 %. */
const STRANDING = 1.02

describe('NFPA 70 chapter 9 table 8, derived from wire geometry and conductivity', () => {
  const cases = CONDUCTOR_SIZES.flatMap((size) =>
    (['copper', 'aluminium'] as const).map((metal) => [size, metal] as const),
  )
  test.each(cases)('%s %s, ohms at 75 °C', (size, metal) => {
    const at75 = (OHM_CMIL_PER_FOOT[metal] * (1 + ALPHA_20[metal] * 55) * 1000) / circularMils(size)
    const printed = TABLE_8[size][metal]
    // Three figures are printed, and the printed tables were rounded on the way: within 1 %.
    expect(Math.abs(printed.stranded / (at75 * STRANDING) - 1)).toBeLessThan(0.01)
    if (printed.solid) expect(Math.abs(printed.solid / at75 - 1)).toBeLessThan(0.01)
  })

  test.each(CONDUCTOR_SIZES.map((size) => [size]))(
    '%s, area within the print’s rounding of ASTM B258',
    (size) => {
      expect(Math.abs(TABLE_8[size].cmil / circularMils(size) - 1)).toBeLessThan(0.003)
    },
  )

  test('stranded over solid is 1.02, within what printing to three figures does to it (1.016 to 1.026)', () => {
    for (const size of CONDUCTOR_SIZES) {
      for (const metal of ['copper', 'aluminium'] as const) {
        const { solid, stranded } = TABLE_8[size][metal]
        if (solid) expect(Math.abs(stranded / solid - STRANDING)).toBeLessThan(0.0065)
      }
    }
  })

  test('solid is printed up to 8 AWG and no further', () => {
    for (const size of CONDUCTOR_SIZES) {
      const expectSolid = ['18', '16', '14', '12', '10', '8'].includes(size)
      expect(TABLE_8[size].copper.solid !== undefined).toBe(expectSolid)
      expect(TABLE_8[size].aluminium.solid !== undefined).toBe(expectSolid)
    }
  })
})

describe('resistance at a temperature', () => {
  test('12 AWG solid copper: 1.93 Ω at 75 °C and 1.587 Ω at 20 °C (table 8 note)', () => {
    expect(resistancePerKft('12', 'copper', { stranded: false })).toBe(1.93)
    expect(resistancePerKft('12', 'copper', { stranded: false, conductorC: 20 })).toBeCloseTo(1.587, 3)
  })

  test('12 AWG aluminium at 20 °C: 3.25·[1 + 0.00330·(20 − 75)], coefficient from memory', () => {
    expect(resistancePerKft('12', 'aluminium', { conductorC: 20 })).toBeCloseTo(3.25 * (1 - 0.0033 * 55), 6)
  })

  test.each<[ConductorSize, ConductorMaterial, boolean | undefined, number]>([
    ['14', 'copper', true, 3.14],
    ['14', 'copper', undefined, 3.14],
    ['14', 'copper', false, 3.07],
    ['6', 'copper', false, 0.491],
    ['12', 'copper-clad', false, 3.18],
    ['4/0', 'aluminium', true, 0.1],
  ])('table 8: %s %s, stranded %s: %f Ω per 1000 ft', (size, material, stranded, ohms) => {
    expect(resistancePerKft(size, material, { stranded })).toBe(ohms)
  })

  test('a larger conductor never has more resistance', () => {
    for (const material of ['copper', 'aluminium', 'copper-clad'] as const) {
      CONDUCTOR_SIZES.slice(1).forEach((size, index) => {
        expect(resistancePerKft(size, material)).toBeLessThan(
          resistancePerKft(CONDUCTOR_SIZES[index]!, material),
        )
      })
    }
  })
})

test('K of the drop formula: 12 AWG 12.93 copper, 21.22 aluminium; 12.9 and 21.2 within 2 % for every size', () => {
  expect(kFactor('12', 'copper')).toBeCloseTo(12.93, 2)
  expect(kFactor('12', 'aluminium')).toBeCloseTo(21.22, 2)
  for (const size of CONDUCTOR_SIZES.filter((each) => !isKcmil(each))) {
    expect(Math.abs(kFactor(size, 'copper') / 12.9 - 1)).toBeLessThan(0.02)
    expect(Math.abs(kFactor(size, 'aluminium') / 21.2 - 1)).toBeLessThan(0.02)
  }
})
