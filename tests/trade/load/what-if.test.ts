import { describe, expect, test } from 'vitest'
import { type LoadInputs, NO_LOAD } from '../../../trade/load/inputs.ts'
import { loadBy, whatIf, withAdditions } from '../../../trade/load/what-if.ts'
import { D1A, D2A } from './homes.ts'

const on = (serviceAmps: number, method: 'standard' | 'optional' | 'existing' = 'optional') =>
  ({ edition: '2023', method, serviceAmps }) as const

describe('adding to a home', () => {
  test('each addition stands in its own list', () => {
    const after = withAdditions(D2A, {
      vehicleVA: 11_520,
      heatPump: { va: 5000, supplementVA: 9600, replaces: ['airConditioners', 'electricHeat'] },
      rangeVA: 12_000,
      hotTubVA: 6000,
    })
    expect(after).toEqual({
      ...D2A,
      vehicles: [{ name: 'New vehicle charger', va: 11_520 }],
      cooking: [...D2A.cooking, { name: 'New range', va: 12_000 }],
      others: [{ name: 'New hot tub', va: 6000 }],
      heatPumps: [{ name: 'New heat pump', va: 5000, supplementVA: 9600 }],
      airConditioners: [],
      electricHeat: [],
    })
    expect(withAdditions(D2A, {})).toEqual(D2A)
    expect(withAdditions(D2A, { heatPump: { va: 5000 } }).heatPumps).toEqual([
      { name: 'New heat pump', va: 5000, supplementVA: 0 },
    ])
  })

  test('a charger that fits: D2(a) on 125 A, 9.6 kW more at 40 %', () => {
    const found = whatIf(D2A, { vehicleVA: 9600 }, on(125))
    // Annex D2(a): 21480 VA, 90 A. Then 21480 + 0.4 × 9600 = 25320 VA, 105.5 A, half up 106 A.
    expect(found.before.worksheet).toMatchObject({ totalVA: 21_480, amps: 90 })
    expect(found.after.worksheet).toMatchObject({ totalVA: 25_320, amps: 106 })
    expect(found).toMatchObject({
      marginBeforeAmps: 35,
      marginAfterAmps: 19,
      addedAmps: 16,
      fits: true,
      changes: [],
    })
  })

  test('a charger that does not fit: what would have to change', () => {
    const found = whatIf(D2A, { vehicleVA: 11_520 }, on(100))
    // 21480 + 0.4 × 11520 = 26088 VA, 108.7 A.
    expect(found).toMatchObject({ marginAfterAmps: -9, fits: false, addedAmps: 19 })
    expect(found.changes).toEqual([
      {
        kind: 'larger-service',
        amps: 110,
        sentence: 'A 110 A service with conductors to suit; the utility decides what it can bring.',
        article: '240.6(A)',
      },
      // 24 A × 240 V: 21480 + 0.4 × 5760 = 23784 VA, 99.1 A. At 32 A it would be 102.3 A.
      { kind: 'slower-charging', va: 5760, sentence: 'Vehicle charging set to 24 A.', article: '220.57' },
      {
        kind: 'manage-load',
        amps: 9,
        sentence: 'Listed energy management that keeps 9 A off while the rest runs.',
        article: '750.30',
      },
      {
        kind: 'measure-demand',
        sentence:
          'A year’s highest demand from the utility, or 30 days of recording, instead of the calculation.',
        article: '220.87',
      },
    ])
  })

  test('exactly full still fits', () => {
    expect(whatIf(D2A, {}, on(90))).toMatchObject({ marginAfterAmps: 0, fits: true, changes: [] })
    expect(whatIf(D2A, {}, on(89))).toMatchObject({ marginAfterAmps: -1, fits: false })
  })

  test('no slower rate is offered where none fits, or nothing charges', () => {
    const kinds = (found: ReturnType<typeof whatIf>) => found.changes.map((change) => change.kind)
    expect(kinds(whatIf(D2A, { vehicleVA: 9600 }, on(91)))).toEqual([
      'larger-service',
      'manage-load',
      'measure-demand',
    ])
    expect(kinds(whatIf(D2A, { hotTubVA: 12_000 }, on(100)))).toEqual([
      'larger-service',
      'manage-load',
      'measure-demand',
    ])
    // Beyond the largest standard rating no service is named.
    const vast: LoadInputs = { ...NO_LOAD, areaSqFt: 1500, others: [{ name: 'Works', va: 6_000_000 }] }
    expect(kinds(whatIf(vast, { hotTubVA: 1 }, on(100)))).toEqual(['manage-load', 'measure-demand'])
  })

  test('in the standard method a charger never counts for less than 7200 VA, so slowing below does not help', () => {
    const found = whatIf(D1A, { vehicleVA: 9600 }, on(100, 'standard'))
    // 18600 + 9600 = 28200 VA, 117.5 A; at 7200 VA 25800 VA, 107.5 A.
    expect(found.after.worksheet?.totalVA).toBe(28_200)
    expect(found.changes.map((change) => change.kind)).not.toContain('slower-charging')
    const roomier = whatIf(D1A, { vehicleVA: 9600 }, on(110, 'standard'))
    expect(roomier.changes).toContainEqual(expect.objectContaining({ kind: 'slower-charging', va: 7680 }))
  })

  test('the existing-dwelling method takes part (B) when heating or cooling is added', () => {
    const pump = whatIf(D1A, { heatPump: { va: 5000 } }, on(100, 'existing'))
    expect(pump.before.worksheet?.article).toBe('220.83(A)')
    expect(pump.after.worksheet?.article).toBe('220.83(B)')
    const tub = whatIf(D1A, { hotTubVA: 5000 }, on(100, 'existing'))
    expect(tub.after.worksheet?.article).toBe('220.83(A)')
    expect(loadBy('existing', D1A, '2023').worksheet?.article).toBe('220.83(A)')
    expect(loadBy('standard', D1A, '2023').worksheet?.method).toBe('standard')
    expect(loadBy('optional', D1A, '2023').worksheet?.method).toBe('optional')
  })

  test('an unknown load leaves every answer open', () => {
    const found = whatIf({ ...D2A, areaSqFt: null }, { vehicleVA: 9600 }, on(100))
    expect(found).toMatchObject({
      before: { missing: ['Floor area'] },
      after: { missing: ['Floor area'] },
      marginBeforeAmps: null,
      marginAfterAmps: null,
      addedAmps: null,
      fits: null,
      changes: [],
    })
  })
})
