import { describe, expect, test } from 'vitest'
import {
  DWELLING_ARTICLE,
  dwellingAmpsNeeded,
  dwellingRuleCovers,
  smallestDwellingConductor,
  TABLE_310_12,
} from '../../../trade/conductors/dwelling.ts'
import { ampacityOfRun, type Run, terminalColumn } from '../../../trade/conductors/run.ts'
import type { ConductorSize } from '../../../trade/conductors/sizes.ts'
import { nec } from '../../../trade/nec.ts'

describe('dwelling services and main feeders', () => {
  /** NFPA 70-2020 Table 310.12 as a distributor prints it, all eleven rows. */
  const PRINTED: [number, ConductorSize, ConductorSize][] = [
    [100, '4', '2'],
    [110, '3', '1'],
    [125, '2', '1/0'],
    [150, '1', '2/0'],
    [175, '1/0', '3/0'],
    [200, '2/0', '4/0'],
    [225, '3/0', '250'],
    [250, '4/0', '300'],
    [300, '250', '350'],
    [350, '350', '500'],
    [400, '400', '600'],
  ]
  test.each(PRINTED)(
    'the 83 %% rule gives the row of Table 310.12: %i A, copper %s, aluminium %s',
    (amps, cu, al) => {
      expect(smallestDwellingConductor(amps, 'copper', '2020')).toBe(cu)
      expect(smallestDwellingConductor(amps, 'aluminium', '2020')).toBe(al)
      expect(TABLE_310_12).toContainEqual({ amps, copper: cu, aluminium: al })
    },
  )
  test('the table has eleven rows and no more', () => {
    expect(TABLE_310_12).toHaveLength(PRINTED.length)
  })

  test('it speaks of 100 to 400 A, since 1975', () => {
    expect(dwellingRuleCovers(99, '2023')).toBe(false)
    expect(dwellingRuleCovers(100, '2023')).toBe(true)
    expect(dwellingRuleCovers(400, '2023')).toBe(true)
    expect(dwellingRuleCovers(401, '2023')).toBe(false)
    expect(dwellingRuleCovers(200, '1975')).toBe(true)
    expect(dwellingRuleCovers(200, '1971')).toBe(false)
    expect(smallestDwellingConductor(600, 'copper', '2023')).toBeNull()
  })
  test('200 A needs 166 A of conductor', () => {
    expect(dwellingAmpsNeeded(200)).toBeCloseTo(166, 9)
  })
  test.each([
    ['1984', 'Table 310.16 note 3'],
    ['2005', '310.15(B)(6)'],
    ['2017', '310.15(B)(7)'],
    ['2020', '310.12'],
  ] as const)('its number in the %s edition is %s', (edition, article) => {
    expect(nec(DWELLING_ARTICLE, edition).article).toBe(article)
  })
})

describe('a run as installed', () => {
  const run: Run = { size: '12', material: 'copper', insulationC: 90, terminalC: 75 }

  test.each<[60 | 75 | null, ConductorSize, number, number]>([
    [60, '2/0', 200, 60],
    [75, '12', 20, 75],
    [null, '12', 20, 60],
    [null, '1', 100, 60],
    [null, '1', 101, 75],
    [null, '1/0', 100, 75],
  ])('NFPA 70 110.14(C)(1): marked %s, %s, %i A circuit: %i °C column', (marked, size, amps, column) => {
    expect(terminalColumn(marked, size, amps)).toBe(column)
  })

  test('IRC E3705: 12 AWG, 90 °C, at 55 °C carries 22.8 A', () => {
    const found = ampacityOfRun({ ...run, ambientC: 55 }, 20, '2023')
    expect(found).toEqual({
      amps: expect.closeTo(22.8, 6),
      insulationAmps: expect.closeTo(22.8, 6),
      tableAmps: 30,
      ambientFactor: 0.76,
      bundlingFactor: 1,
      terminalC: 75,
    })
  })
  test('the terminals hold a cool run to their own column, whatever the insulation bears', () => {
    expect(ampacityOfRun(run, 20, '2023').amps).toBe(25)
    expect(ampacityOfRun({ ...run, terminalC: 60 }, 20, '2023').amps).toBe(20)
    expect(ampacityOfRun({ ...run, ambientC: 5 }, 20, '2023').amps).toBe(25)
  })
  test('60 °C insulation stays at its column under 75 °C terminals', () => {
    expect(ampacityOfRun({ ...run, insulationC: 60 }, 20, '2023').amps).toBe(20)
  })
  test('334.80: NM is derated from 90 °C and ends at the 60 °C column (cap from memory); UF alike, from memory', () => {
    const nm = { ...run, wiring: 'nm' } as const
    expect(ampacityOfRun(nm, 20, '2023').amps).toBe(20)
    expect(ampacityOfRun({ ...nm, bundled: 8 }, 20, '2023').amps).toBe(20)
    expect(ampacityOfRun({ ...nm, bundled: 12 }, 20, '2023').amps).toBe(15)
    expect(ampacityOfRun({ ...run, wiring: 'uf' }, 20, '2023').amps).toBe(20)
    expect(ampacityOfRun({ ...run, wiring: 'armoured' }, 20, '2023').amps).toBe(25)
  })
  test('both factors multiply: 30 × 0.91 × 0.8', () => {
    const found = ampacityOfRun({ ...run, ambientC: 40, bundled: 5 }, 20, '2023')
    expect(found.amps).toBeCloseTo(21.84, 6)
    expect(found.bundlingFactor).toBe(0.8)
  })
  test('insulation beyond its range, and a conductor the table leaves out, carry nothing', () => {
    expect(ampacityOfRun({ ...run, insulationC: 60, ambientC: 60 }, 20, '2023').amps).toBe(0)
    expect(ampacityOfRun({ ...run, size: '14', material: 'aluminium' }, 15, '2023')).toMatchObject({
      amps: 0,
      tableAmps: 0,
    })
  })
})
