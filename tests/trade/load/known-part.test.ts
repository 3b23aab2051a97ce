import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Edition } from '../../../trade/editions.ts'
import { lowestLoad } from '../../../trade/load/against-service.ts'
import { type LoadInputs, NO_LOAD } from '../../../trade/load/inputs.ts'
import { knownPart } from '../../../trade/load/known-part.ts'
import { standardLoad } from '../../../trade/load/standard.ts'

const loads = (...nameplates: (number | null)[]) => nameplates.map((va, i) => ({ name: `load ${i}`, va }))
const home = (more: Partial<LoadInputs>): LoadInputs => ({ ...NO_LOAD, areaSqFt: 1500, ...more })
const totalOf = (inputs: LoadInputs, edition: Edition = '2020') =>
  standardLoad(inputs, edition).worksheet!.totalVA
const leastOf = (inputs: LoadInputs, edition: Edition = '2020') =>
  totalOf(knownPart(inputs, edition), edition)

describe('the least that a home draws while some of its loads are not read', () => {
  // NFPA 70 220.53: four or more fixed appliances at 75 %. 1500 ft² alone are 5100 VA, Annex D1(a).
  test('a fourth appliance would lower the share of the others', () => {
    const open = home({ appliances: loads(4000, 4000, 4000, null) })
    expect(leastOf(open)).toBe(5100 + 9000)
    expect(totalOf(home({ appliances: loads(4000, 4000, 4000, 500) }))).toBe(5100 + 9375)
  })
  test('with four known the share is certain', () => {
    expect(leastOf(home({ appliances: loads(4000, 4000, 4000, 2000, null) }))).toBe(5100 + 10_500)
    // In 2023 those under 500 VA do not count among the four.
    expect(leastOf(home({ appliances: loads(4000, 4000, 4000, 400, null) }), '2023')).toBe(5100 + 9300)
    expect(leastOf(home({ appliances: loads(4000, 4000, 4000, 500, null) }), '2023')).toBe(5100 + 9375)
  })
  test('unknown heating may outweigh the cooling, whose compressor then adds no quarter', () => {
    const cooling = { airConditioners: loads(5000) }
    expect(leastOf(home({ ...cooling, electricHeat: loads(null) }))).toBe(5100 + 5000)
    expect(totalOf(home({ ...cooling, electricHeat: loads(5001) }))).toBe(5100 + 5001)
  })

  /** Loads that are read, and small ones that are not yet: `read` tells what they turn out to be. */
  const known = fc.integer({ min: 1, max: 12_000 }).map((va) => ({ va, read: va }))
  const unread = fc.integer({ min: 1, max: 6000 }).map((read) => ({ va: null, read }))
  const anyLoads = (maxLength: number) =>
    fc.array(
      fc.oneof(known, unread).map((each) => ({ name: 'it', ...each })),
      { maxLength },
    )
  const anyHome = fc.record({
    areaSqFt: fc.integer({ min: 200, max: 6000 }),
    smallApplianceCircuits: fc.constant(2),
    laundryCircuits: fc.constant(1),
    cooking: anyLoads(2),
    dryers: anyLoads(2),
    appliances: anyLoads(6),
    vehicles: anyLoads(1),
    others: anyLoads(1),
    airConditioners: anyLoads(2),
    heatPumps: anyLoads(1),
    electricHeat: anyLoads(2),
    heaterControls: fc.constantFrom(null, 2, 5),
    storageHeat: anyLoads(1),
  })
  const whenRead = (open: LoadInputs): LoadInputs => {
    const read = (value: unknown) =>
      Array.isArray(value) ? value.map((each) => ({ name: each.name, va: each.read })) : value
    return Object.fromEntries(Object.entries(open).map(([name, value]) => [name, read(value)])) as never
  }
  test('reading what is left never brings the load below it', () => {
    const editions = fc.constantFrom<Edition>('2005', '2020', '2023')
    fc.assert(
      fc.property(anyHome, fc.constantFrom(60, 200), editions, (open, amps, edition) => {
        const least = lowestLoad(knownPart(open, edition), amps, edition).worksheet!
        const read = lowestLoad(whenRead(open), amps, edition).worksheet!
        expect(least.totalVA).toBeLessThanOrEqual(read.totalVA + 0.01)
      }),
      { numRuns: 300 },
    )
  })
})
