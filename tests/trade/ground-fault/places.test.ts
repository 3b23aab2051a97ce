import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { type Edition, EDITIONS } from '../../../trade/editions.ts'
import {
  isNearWater,
  placesOf,
  placesOfRoom,
  type ReceptacleFacts,
} from '../../../trade/ground-fault/place-of.ts'
import {
  GROUND_FAULT_PLACES,
  type GroundFaultPlace,
  groundFaultRequirement,
} from '../../../trade/ground-fault/places.ts'
import { receptacleClocks, requirementFor } from '../../../trade/ground-fault/receptacle-requirement.ts'
import { SPACE_KINDS, type SpaceKind } from '../../../trade/property.ts'
import { clocksOf } from '../../../trade/requirement.ts'
import { under } from '../overcurrent/verdicts.ts'

const places = Object.keys(GROUND_FAULT_PLACES) as GroundFaultPlace[]
const today = (place: GroundFaultPlace, edition: Edition) =>
  clocksOf(groundFaultRequirement(place), under(edition)).today

describe('the edition in which each place first appears, trade-press histories of 210.8', () => {
  test.each([
    ['underwater-light', '1968', '680-4(g)'],
    ['pool', '1971', '680-6'],
    ['bathroom', '1975', '210-8(a)'],
    ['garage', '1978', '210-8(a)'],
    ['kitchen-counter-by-sink', '1987', '210-8(a)'],
    ['boathouse', '1987', '210-8(a)'],
    ['crawl-space', '1990', '210-8(a)'],
    ['basement-unfinished', '1990', '210-8(a)'],
    ['wet-bar-sink', '1993', '210-8(a)'],
    ['kitchen-counter', '1996', '210-8(a)'],
    ['accessory-building', '1996', '210-8(a)'],
    ['utility-sink', '2005', '210.8(A)'],
    ['tub', '2014', '210.8(A)'],
    ['laundry', '2014', '210.8(A)'],
    ['dishwasher', '2014', '210.8(D)'],
    ['basement-finished', '2020', '210.8(A)'],
    ['damp', '2020', '210.8(A)'],
    ['kitchen', '2023', '210.8(A)'],
    ['food-area', '2023', '210.8(A)'],
  ] as const)('%s: %s, %s', (place, since, article) => {
    const before = EDITIONS[EDITIONS.indexOf(since) - 1]!
    expect(today(place, before)).toBe('no')
    expect(today(place, since)).toBe('yes')
    expect(clocksOf(groundFaultRequirement(place), under(since)).references).toEqual([
      { code: 'NFPA 70', edition: since, article, row: GROUND_FAULT_PLACES[place] },
    ])
  })
  test.each([
    ['sink', '2011'],
    ['crawl-space-lighting', '2017'],
  ] as const)('from memory, %s: %s', (place, since) => {
    expect(today(place, EDITIONS[EDITIONS.indexOf(since) - 1]!)).toBe('no')
    expect(today(place, since)).toBe('yes')
  })
  test('the section was renumbered in 2002 (from memory)', () => {
    const article = (edition: Edition) =>
      clocksOf(groundFaultRequirement('bathroom'), under(edition)).references[0]!.article
    expect([article('1999'), article('2002'), article('2026')]).toEqual(['210-8(a)', '210.8(A)', '210.8(A)'])
  })
  test('outdoors: all from 1973, within reach of the ground from 1978, all again from 1996', () => {
    const of = (edition: Edition) => [today('outdoors', edition), today('outdoors-at-grade', edition)]
    expect(of('1968')).toEqual(['no', 'no'])
    expect(of('1971')).toEqual(['yes', 'yes'])
    expect(of('1978')).toEqual(['no', 'yes'])
    expect(of('1993')).toEqual(['no', 'yes'])
    expect(of('1996')).toEqual(['yes', 'yes'])
    const early = { ...under('1971'), today: day('1972-12-31') }
    expect(clocksOf(groundFaultRequirement('outdoors'), early).today).toBe('no')
    expect(clocksOf(groundFaultRequirement('outdoors'), { ...early, today: day('1973-01-01') }).today).toBe(
      'yes',
    )
  })
  test('a later edition never un-requires a place, but for outdoors out of reach', () => {
    for (const place of places.filter((each) => each !== 'outdoors')) {
      const answers = EDITIONS.map((edition) => today(place, edition))
      expect(answers.lastIndexOf('no')).toBeLessThan(answers.indexOf('yes'))
    }
  })
  test.each([
    ['kitchen', ['kitchen-counter-by-sink', 'kitchen-counter', 'kitchen', 'dishwasher']],
    ['basement', ['basement-unfinished', 'basement-finished']],
    ['sink', ['wet-bar-sink', 'utility-sink', 'sink']],
    ['crawl-space', ['crawl-space', 'crawl-space-lighting']],
    ['outdoors', ['outdoors', 'outdoors-at-grade']],
    ['bathroom', ['bathroom']],
  ] as const)('a local change of ground-fault.places/%s reaches %o and no other', (key, reached) => {
    const change = {
      requirement: `ground-fault.places/${key}`,
      effect: 'remove',
      from: day('2024-01-01'),
      source: 'Port Ansel 12-3',
    } as const
    const dropped = places.filter(
      (place) => clocksOf(groundFaultRequirement(place), under('2026', null, [change])).today === 'no',
    )
    expect(dropped.toSorted()).toEqual([...reached].toSorted())
  })
  test('a change of the whole rule reaches every place', () => {
    const change = {
      requirement: 'ground-fault.places',
      effect: 'remove',
      from: day('2024-01-01'),
      source: 'x',
    } as const
    for (const place of places) {
      expect(clocksOf(groundFaultRequirement(place), under('2026', null, [change])).today).toBe('no')
    }
  })
})

describe('ratings and exemptions', () => {
  const of = (place: GroundFaultPlace, receptacle: ReceptacleFacts, edition: Edition) =>
    clocksOf(requirementFor(place, receptacle), under(edition)).today
  test.each([
    // 240 V 30 A dryer receptacle in the laundry: 2017 no, 2020 yes.
    ['laundry', { volts: 240, amps: 30 }, '2017', 'no'],
    ['laundry', { volts: 240, amps: 30 }, '2020', 'yes'],
    ['laundry', { volts: 120, amps: 30 }, '2017', 'no'],
    ['laundry', { volts: 240, amps: 20 }, '2017', 'no'],
    ['laundry', { volts: 125, amps: 20 }, '2017', 'yes'],
    ['laundry', { volts: 251, amps: 30 }, '2020', 'no'],
    ['laundry', { volts: 250, amps: 50 }, '2023', 'yes'],
    // Finished basement, 125 V: 2017 no, 2020 yes.
    ['basement-finished', {}, '2017', 'no'],
    ['basement-finished', {}, '2020', 'yes'],
    // Dedicated appliance in garage and basement: exempt until 2008.
    ['garage', { dedicatedAppliance: true }, '1978', 'no'],
    ['garage', { dedicatedAppliance: true }, '2005', 'no'],
    ['garage', { dedicatedAppliance: true }, '2008', 'yes'],
    ['basement-unfinished', { dedicatedAppliance: true }, '2005', 'no'],
    ['basement-unfinished', { dedicatedAppliance: true }, '2008', 'yes'],
    ['garage', { dedicatedAppliance: false }, '2005', 'yes'],
    ['garage', { partOfAppliance: true }, '2005', 'yes'],
    ['bathroom', { dedicatedAppliance: true }, '2005', 'yes'],
    // Crawl space: dedicated equipment exempt until 1999.
    ['crawl-space', { dedicatedAppliance: true }, '1996', 'no'],
    ['crawl-space', { dedicatedAppliance: true }, '1999', 'yes'],
    // Exhaust fan with a receptacle built in: exempt since 2023.
    ['bathroom', { partOfAppliance: true }, '2020', 'yes'],
    ['bathroom', { partOfAppliance: true }, '2023', 'no'],
    ['bathroom', { partOfAppliance: true }, '2026', 'no'],
  ] as const)('%s %o under %s: %s', (place, receptacle, edition, answer) => {
    expect(of(place, receptacle, edition)).toBe(answer)
  })
  test('the row says why not', () => {
    const rows = (receptacle: ReceptacleFacts, edition: Edition, place: GroundFaultPlace) =>
      clocksOf(requirementFor(place, receptacle), under(edition)).references.map((each) => each.row)
    expect(rows({ volts: 240, amps: 30 }, '2017', 'laundry')[0]).toBe('rating not on the list')
    expect(rows({ partOfAppliance: true }, '2023', 'bathroom')[0]).toBe(
      'receptacle built into an exhaust fan',
    )
    expect(rows({ dedicatedAppliance: true }, '1984', 'garage')[0]).toBe(
      'dedicated space or not readily reached: deleted in 2008',
    )
  })
  test('a delayed edition is still delayed for one receptacle', () => {
    const context = { ...under('1971'), today: day('1972-06-01') }
    expect(clocksOf(requirementFor('outdoors', {}), context).today).toBe('no')
    expect(clocksOf(requirementFor('outdoors', { dedicatedAppliance: true }), context).today).toBe('no')
  })
})

describe('which places a receptacle stands in', () => {
  test.each([
    ['bathroom', {}, ['bathroom']],
    ['bathroom', { place: 'near-tub' }, ['bathroom', 'tub']],
    ['kitchen', { place: 'kitchen-counter' }, ['kitchen-counter']],
    ['kitchen', { place: 'near-sink' }, ['kitchen', 'kitchen-counter-by-sink']],
    ['kitchen', {}, ['kitchen']],
    ['laundry', { place: 'near-sink' }, ['laundry', 'utility-sink']],
    ['utility', { place: 'near-sink' }, ['utility-sink']],
    ['family', { place: 'near-sink' }, ['wet-bar-sink']],
    ['living', { place: 'near-sink' }, ['wet-bar-sink']],
    ['dining', { place: 'near-sink' }, ['wet-bar-sink']],
    ['bedroom', { place: 'near-sink' }, ['sink']],
    ['bedroom', { place: 'near-tub' }, ['tub']],
    ['bedroom', { place: 'general' }, []],
    ['family', { place: 'kitchen-counter' }, ['food-area']],
    ['garage', {}, ['garage']],
    ['crawl-space', {}, ['crawl-space']],
    ['basement-finished', { place: 'damp' }, ['basement-finished', 'damp']],
    ['basement-unfinished', { place: 'wet' }, ['basement-unfinished', 'damp']],
    ['accessory-building', {}, ['accessory-building']],
    ['outdoors', {}, ['outdoors']],
    ['outdoors', { place: 'wet', heightInches: 78 }, ['outdoors', 'outdoors-at-grade']],
    ['outdoors', { heightInches: 79 }, ['outdoors']],
  ] as const)('%s %o: %o', (kind, receptacle, expected) => {
    expect(placesOf({ kind }, receptacle)).toEqual(expected)
  })
  test.each([
    [{ kind: 'kitchen' }, ['kitchen-counter'], true],
    [{ kind: 'bathroom' }, ['bathroom'], true],
    [{ kind: 'laundry' }, ['laundry'], true],
    [{ kind: 'outdoors' }, ['outdoors'], true],
    [{ kind: 'garage' }, ['garage'], false],
    [{ kind: 'garage', hasSink: true }, ['garage'], true],
    [{ kind: 'bedroom' }, [], false],
    [{ kind: 'bedroom', hasSink: true }, ['sink'], true],
    [{ kind: 'bedroom', hasTubOrShower: true }, ['tub'], true],
    [{ kind: 'family', hasSink: true, hasTubOrShower: true }, ['wet-bar-sink', 'tub'], true],
  ] as const)('room %o: %o, near water %s', (space, expected, near) => {
    expect(placesOfRoom(space)).toEqual(expected)
    expect(isNearWater(space)).toBe(near)
  })
  test('an unknown room is not called near water', () => expect(isNearWater(null)).toBe(false))
})

describe('both clocks of one receptacle', () => {
  const clocks = (kind: SpaceKind, receptacle: ReceptacleFacts, built: Edition, now: Edition = '2023') => {
    const { whenBuilt, today } = receptacleClocks({ kind }, receptacle, under(now, built))
    return [whenBuilt, today]
  }
  test.each([
    // A house of 1974 and its bath: the rule is of 1975. A kitchen of 1989, counter 8 ft from the sink: 1996.
    ['bathroom', {}, '1971', ['no', 'yes']],
    ['kitchen', { place: 'kitchen-counter' }, '1987', ['no', 'yes']],
    ['kitchen', { place: 'near-sink' }, '1987', ['yes', 'yes']],
    // One of several places is enough.
    ['laundry', { place: 'near-sink' }, '2005', ['yes', 'yes']],
    ['bedroom', {}, '2020', ['no', 'no']],
    // Height not measured: editions that asked only within reach of the ground stay unknown.
    ['outdoors', {}, '1984', ['unknown', 'yes']],
    ['outdoors', { heightInches: 20 }, '1984', ['yes', 'yes']],
    ['outdoors', { heightInches: 100 }, '1984', ['no', 'yes']],
    ['outdoors', {}, '1968', ['no', 'yes']],
    ['outdoors', {}, '1996', ['yes', 'yes']],
    // A replacement follows the edition of its own day.
    ['bathroom', { replacedOnOrAfterBuild: true }, '1971', ['unknown', 'yes']],
    ['bathroom', { replacedOnOrAfterBuild: true }, '1978', ['yes', 'yes']],
  ] as const)('%s %o built under %s: %o', (kind, receptacle, built, expected) => {
    expect(clocks(kind, receptacle, built)).toEqual(expected)
  })
  test('never throws, and unknown editions stay unknown', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...(Object.keys(SPACE_KINDS) as SpaceKind[])),
        fc.record(
          {
            place: fc.constantFrom('kitchen-counter', 'near-sink', 'near-tub', 'damp', 'wet', 'general'),
            volts: fc.integer({ min: 100, max: 300 }),
            amps: fc.integer({ min: 10, max: 60 }),
            heightInches: fc.integer({ min: 0, max: 120 }),
            dedicatedAppliance: fc.boolean(),
            partOfAppliance: fc.boolean(),
          },
          { requiredKeys: [] },
        ),
        (kind, receptacle) => {
          const answer = receptacleClocks({ kind }, receptacle, under(null))
          const none = placesOf({ kind }, receptacle).length === 0
          expect([answer.whenBuilt, answer.today]).toEqual(none ? ['no', 'no'] : ['unknown', 'unknown'])
        },
      ),
    )
  })
})
