import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { circularMils } from '../../../trade/conductors/geometry.ts'
import { CONDUCTOR_SIZES, type ConductorSize, sizeRank } from '../../../trade/conductors/sizes.ts'
import {
  CAPS,
  electrodeConductorFor,
  metalOf,
  serviceRow,
} from '../../../trade/grounding/electrode-conductor-table.ts'
import {
  cappedByCircuit,
  enlargedInProportion,
  equipmentConductorFor,
  smallestConductorFor,
} from '../../../trade/grounding/equipment-conductor-table.ts'

const material = fc.constantFrom('copper', 'aluminium', 'copper-clad')
const size = fc.constantFrom(...CONDUCTOR_SIZES)

describe('grounding electrode conductor, NFPA 70 Table 250.66', () => {
  test.each([
    ['copper', '4', '8', '6'],
    ['copper', '2', '8', '6'],
    ['copper', '1', '6', '4'],
    ['copper', '1/0', '6', '4'],
    ['copper', '2/0', '4', '2'],
    ['copper', '3/0', '4', '2'],
    ['copper', '4/0', '2', '1/0'],
    ['copper', '350', '2', '1/0'],
    ['copper', '400', '1/0', '3/0'],
    ['copper', '600', '1/0', '3/0'],
    ['copper', '700', '2/0', '4/0'],
    ['copper', '900', '2/0', '4/0'],
    ['aluminium', '2', '8', '6'],
    // Catches the misprint that ends the first row at 1 AWG.
    ['aluminium', '1/0', '8', '6'],
    ['aluminium', '2/0', '6', '4'],
    ['aluminium', '3/0', '6', '4'],
    ['aluminium', '4/0', '4', '2'],
    ['aluminium', '250', '4', '2'],
    ['aluminium', '300', '2', '1/0'],
    ['aluminium', '500', '2', '1/0'],
    ['aluminium', '600', '1/0', '3/0'],
    ['aluminium', '900', '1/0', '3/0'],
    ['copper-clad', '4/0', '4', '2'],
  ] as const)('service %s %s: copper %s, aluminium %s', (serviceMaterial, serviceSize, copper, aluminium) => {
    const service = { material: serviceMaterial, size: serviceSize }
    expect(electrodeConductorFor(service, 'copper')).toMatchObject({
      size: copper,
      article: 'Table 250.66',
      row: expect.stringMatching(/^service conductors up to \S+ (copper|aluminium)$/),
    })
    expect(electrodeConductorFor(service, 'aluminium').size).toBe(aluminium)
    expect(electrodeConductorFor(service, 'copper-clad').size).toBe(aluminium)
  })
  test.each([
    ['rod', '6', '4', '250.66(A)'],
    ['pipe', '6', '4', '250.66(A)'],
    ['plate', '6', '4', '250.66(A)'],
    ['concrete-encased', '4', '2', '250.66(B)'],
    ['ring', '2', '1/0', '250.66(C)'],
  ] as const)(
    'ends at a %s: never more than copper %s (%s aluminium), %s',
    (kind, copper, aluminium, article) => {
      const large = { material: 'copper', size: '900' } as const
      expect(electrodeConductorFor(large, 'copper', kind)).toEqual({
        size: copper,
        article,
        row: `ends at a ${kind}: never larger`,
      })
      expect(electrodeConductorFor(large, 'aluminium', kind).size).toBe(aluminium)
      const small = { material: 'copper', size: '4' } as const
      expect(electrodeConductorFor(small, 'copper', kind).size).toBe('8')
    },
  )
  test('a water pipe has no cap', () => {
    expect(CAPS['water-pipe']).toBeUndefined()
    expect(electrodeConductorFor({ material: 'copper', size: '3/0' }, 'copper', 'water-pipe').size).toBe('4')
    // At the very cap the table, not the cap, is named.
    expect(electrodeConductorFor({ material: 'copper', size: '1/0' }, 'copper', 'rod').article).toBe(
      'Table 250.66',
    )
  })
  test('larger service conductors never need a smaller conductor, nor does a cap raise it', () => {
    fc.assert(
      fc.property(material, size, size, material, (of, a, b, to) => {
        const [less, more] = [a, b].toSorted((x, y) => sizeRank(x) - sizeRank(y)) as [
          ConductorSize,
          ConductorSize,
        ]
        const wanted = (serviceSize: ConductorSize) =>
          electrodeConductorFor({ material: of, size: serviceSize }, to)
        expect(sizeRank(wanted(more).size)).toBeGreaterThanOrEqual(sizeRank(wanted(less).size))
        const capped = electrodeConductorFor({ material: of, size: more }, to, 'rod')
        expect(sizeRank(capped.size)).toBeLessThanOrEqual(sizeRank(wanted(more).size))
        expect(serviceRow(of, more).conductor[metalOf(to)]).toBe(wanted(more).size)
      }),
    )
  })
})

describe('equipment grounding conductor, NFPA 70 Table 250.122', () => {
  test.each([
    [15, '14', '12'],
    [20, '12', '10'],
    [30, '10', '8'],
    [40, '10', '8'],
    [60, '10', '8'],
    [70, '8', '6'],
    [100, '8', '6'],
    [110, '6', '4'],
    [200, '6', '4'],
    [300, '4', '2'],
    [400, '3', '1'],
    [500, '2', '1/0'],
    [600, '1', '2/0'],
    [800, '1/0', '3/0'],
  ] as const)('%d A: copper %s, aluminium %s', (amps, copper, aluminium) => {
    expect(equipmentConductorFor(amps, 'copper')).toMatchObject({
      size: copper,
      row: expect.stringMatching(/^device up to \d+ A$/),
    })
    expect(equipmentConductorFor(amps, 'aluminium')?.size).toBe(aluminium)
    expect(equipmentConductorFor(amps, 'copper-clad')?.size).toBe(aluminium)
  })
  test('above the rows kept here there is no answer', () => {
    expect(equipmentConductorFor(801, 'copper')).toBeNull()
  })
  test('never required larger than the circuit conductors, 250.122(A); other metals are not compared', () => {
    expect(cappedByCircuit('10', 'copper', { material: 'copper', size: '12' })).toBe('12')
    expect(cappedByCircuit('10', 'copper', { material: 'copper', size: '8' })).toBe('10')
    expect(cappedByCircuit('10', 'copper', { material: 'aluminium', size: '12' })).toBe('10')
    expect(cappedByCircuit('8', 'copper-clad', { material: 'aluminium', size: '10' })).toBe('10')
    expect(cappedByCircuit('10', 'copper', { material: 'copper' })).toBe('10')
    expect(cappedByCircuit('10', 'copper', { size: '14' })).toBe('10')
  })
  test.each([
    [15, 'copper', '14'],
    [20, 'copper', '12'],
    [30, 'copper', '10'],
    [40, 'copper', '8'],
    [100, 'copper', '1'],
    [15, 'aluminium', '12'],
    [25, 'aluminium', '10'],
    [30, 'aluminium', '8'],
  ] as const)('%d A needs at least %s %s (Table 310.16 at 60 °C, 240.4(D))', (amps, of, least) => {
    expect(smallestConductorFor(amps, of)).toBe(least)
  })
  test('no conductor carries what none can', () => {
    expect(smallestConductorFor(5000, 'copper')).toBeNull()
  })
  test.each([
    // From memory: 250.122(B). Derived from ASTM B258: 12 to 10 AWG grows the area 1.59 times, so 14 becomes 12.
    ['14', '12', '10', '12'],
    ['12', '12', '8', '8'],
    ['10', '8', '8', '10'],
    ['10', '8', '10', '10'],
    ['14', '14', '12', '12'],
  ] as const)(
    'from memory, 250.122(B): %s with conductors enlarged from %s to %s: %s',
    (wanted, needed, actual, larger) => {
      expect(enlargedInProportion(wanted, needed, actual)).toBe(larger)
    },
  )
  test('enlarging keeps the ratio of areas', () => {
    fc.assert(
      fc.property(size, size, size, (wanted, needed, actual) => {
        const larger = enlargedInProportion(wanted, needed, actual)
        const ratio = Math.max(1, circularMils(actual) / circularMils(needed))
        if (larger) expect(circularMils(larger)).toBeGreaterThanOrEqual(circularMils(wanted) * ratio * 0.999)
        else expect(circularMils(wanted) * ratio).toBeGreaterThan(circularMils('900'))
      }),
    )
  })
})
