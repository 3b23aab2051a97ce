import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { arcFault, type ArcFaultInputs, judgeArcFault, roomsOf } from '../../../trade/arc-fault/circuit.ts'
import { extension, type ExtensionInputs, judgeExtension } from '../../../trade/arc-fault/extension.ts'
import { arcFaultRequirement, NEVER_LISTED } from '../../../trade/arc-fault/places.ts'
import { day } from '../../../trade/dates.ts'
import { type Edition, EDITIONS } from '../../../trade/editions.ts'
import { type Equipment, EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { SPACE_KINDS, type SpaceKind } from '../../../trade/property.ts'
import { clocksOf } from '../../../trade/requirement.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.circuit
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const today = (place: SpaceKind, edition: Edition, receptacles = true) =>
  clocksOf(arcFaultRequirement(place, receptacles)!, under(edition)).today

describe('the edition in which each room first appears, trade-press histories of 210.12', () => {
  test.each([
    ['bedroom', '1999', '210-12(b)'],
    ['living', '2008', '210.12(B)'],
    ['dining', '2008', '210.12(B)'],
    ['family', '2008', '210.12(B)'],
    ['office', '2008', '210.12(B)'],
    ['closet', '2008', '210.12(B)'],
    ['hall', '2008', '210.12(B)'],
    ['attic-habitable', '2008', '210.12(B)'],
    ['basement-finished', '2008', '210.12(B)'],
    ['kitchen', '2014', '210.12(A)'],
    ['laundry', '2014', '210.12(A)'],
  ] as const)('%s: %s, %s', (place, since, article) => {
    expect(today(place, EDITIONS[EDITIONS.indexOf(since) - 1]!)).toBe('no')
    expect(today(place, since)).toBe('yes')
    expect(clocksOf(arcFaultRequirement(place, true)!, under(since)).references[0]).toMatchObject({
      code: 'NFPA 70',
      edition: since,
      article,
    })
  })
  test.each([
    ['kitchen', '2011', 'no'],
    ['kitchen', '2014', 'yes'],
    ['hall', '2005', 'no'],
    ['hall', '2008', 'yes'],
  ] as const)('%s under %s: %s', (place, edition, answer) => expect(today(place, edition)).toBe(answer))
  test('bedrooms: receptacles from 2002-01-01 under 1999, all outlets from the 2002 edition', () => {
    expect(today('bedroom', '1999', false)).toBe('no')
    expect(today('bedroom', '2002', false)).toBe('yes')
    const early = { ...under('1999'), today: day('2001-12-31') }
    const bedroom = arcFaultRequirement('bedroom', true)!
    expect(clocksOf(bedroom, early).today).toBe('no')
    expect(clocksOf(bedroom, { ...early, today: day('2002-01-01') }).today).toBe('yes')
    expect(clocksOf(bedroom, under('2023', '1999')).whenBuilt).toBe('unknown')
    expect(clocksOf(bedroom, under('2023', '2002')).whenBuilt).toBe('yes')
  })
  test('articles follow the renumbering (from memory)', () => {
    const article = (edition: Edition, place: SpaceKind = 'bedroom') =>
      clocksOf(arcFaultRequirement(place, true)!, under(edition)).references[0]!.article
    expect((['2002', '2008', '2011', '2020', '2023'] as const).map((each) => article(each))).toEqual([
      '210.12(B)',
      '210.12(B)',
      '210.12(A)',
      '210.12(A)',
      '210.12(B)',
    ])
    expect(article('2023', 'kitchen')).toBe('210.12(B)')
    expect(article('2020', 'hall')).toBe('210.12(A)')
  })
  test('a later edition never un-requires a room', () => {
    for (const place of Object.keys(SPACE_KINDS) as SpaceKind[]) {
      if (!arcFaultRequirement(place, true)) continue
      const answers = EDITIONS.map((edition) => today(place, edition))
      expect(answers.lastIndexOf('no')).toBeLessThan(answers.indexOf('yes'))
    }
  })
  test('bathrooms, garages, outdoors and unfinished places were never listed', () => {
    for (const place of NEVER_LISTED) expect(arcFaultRequirement(place, true)).toBeNull()
    expect(NEVER_LISTED).toHaveLength(6)
  })
})

const circuit: ArcFaultInputs = {
  ratingAmps: 15,
  poles: 1,
  device: 'breaker',
  serves: 'receptacles',
  outletArcFault: false,
  rooms: ['bedroom'],
}
const judge = (inputs: Partial<ArcFaultInputs>, context = under('2023', '1984')) =>
  spoken(judgeArcFault({ ...circuit, ...inputs }, context))

describe('arc-fault protection of a circuit', () => {
  test.each([
    ['1984', 'improve', 'no'],
    ['2002', 'repair', 'yes'],
    ['1999', 'improve', 'unknown'],
  ] as const)('bedroom built under %s without: %s', (built, severity, requiredWhenBuilt) => {
    expect(judge({}, under('2023', built))).toMatchObject({
      rule: 'arc-fault.places',
      outcome: 'finding',
      severity,
      requiredWhenBuilt,
      requiredToday: 'yes',
      inputs: { rooms: 'bedroom', device: 'breaker', ratingAmps: 15 },
    })
  })
  test('an outlet-type device nobody looked for is to be found out first', () => {
    expect(judge({ outletArcFault: undefined }, under('2023', '2008'))).toMatchObject({
      severity: 'investigate',
      technician:
        'No arc-fault breaker (bedroom); first outlet not checked; it was required when this was built.',
    })
    expect(judge({ outletArcFault: undefined })).toMatchObject({ severity: 'improve' })
    expect(judge({ rooms: ['hall', 'bedroom'] }, under('2023', '2008')).technician).toBe(
      'No arc-fault breaker (bedroom, hall); it was required when this was built.',
    )
  })
  test.each([{ device: 'afci' }, { device: 'dual' }, { outletArcFault: true }] as const)(
    '%o protects',
    (inputs) => {
      expect(judge(inputs)).toMatchObject({
        outcome: 'sound',
        technician: 'Circuit arc-fault protected.',
        requiredToday: 'yes',
      })
      expect(judge({ ...inputs, rooms: [] })).toMatchObject({ outcome: 'sound', requiredToday: 'unknown' })
    },
  )
  test.each([{ device: 'gfci' }, { device: 'fuse' }] as const)('%o does not', (inputs) => {
    expect(judge(inputs)).toMatchObject({ outcome: 'finding' })
  })
  test.each([
    [{ serves: 'spare' }, 'nothing hangs on it'],
    [{ serves: 'feeder' }, 'a feeder is no branch circuit'],
    [{ poles: 2 }, 'only 120 V circuits are listed'],
    [{ ratingAmps: 30 }, 'only circuits of 10, 15, 20 A are listed'],
    [{ rooms: ['garage'] }, 'no edition lists such a room'],
    [{ rooms: ['bathroom', 'outdoors'] }, 'no edition lists such a room'],
  ] as const)('%o lies outside: %s', (inputs, why) => {
    expect(judge(inputs as never)).toMatchObject({ outcome: 'not-applicable', why })
  })
  test('a shared neutral on two poles still is 120 V; 10 A counts since 2023', () => {
    expect(judge({ poles: 2, multiwire: true })).toMatchObject({ outcome: 'finding' })
    expect(judge({ ratingAmps: 10 })).toMatchObject({ outcome: 'finding' })
    expect(judge({ ratingAmps: 10 }, under('2020'))).toMatchObject({
      outcome: 'not-applicable',
      why: 'only circuits of 15, 20 A are listed',
    })
    expect(missing(judge({ ratingAmps: 10 }, under(null)))).toEqual(['Code edition in force'])
  })
  test('one listed room among others is enough', () => {
    expect(judge({ rooms: ['garage', 'bedroom'] })).toMatchObject({ outcome: 'finding' })
  })
  test('lights of a bedroom: asked for since 2002', () => {
    for (const serves of ['lighting', 'alarms'] as const) {
      expect(judge({ serves }, under('1999'))).toMatchObject({ outcome: 'undetermined' })
      expect(judge({ serves }, under('1999', '1999'))).toMatchObject({ outcome: 'not-applicable' })
      expect(judge({ serves }, under('2002', '1999'))).toMatchObject({
        severity: 'improve',
        requiredWhenBuilt: 'no',
      })
    }
  })
  test('unknowns', () => {
    expect(missing(judge({ rooms: [] }))).toEqual([FIELDS.directory.label])
    expect(missing(judge({ ratingAmps: undefined, poles: undefined, device: undefined }))).toEqual([
      FIELDS.ratingAmps.label,
      FIELDS.poles.label,
      FIELDS.device.label,
    ])
    expect(judge({ device: undefined }, under('1996', '1996'))).toMatchObject({
      outcome: 'not-applicable',
      why: 'no edition in force asks for it',
    })
    expect(missing(judge({}, under(null)))).toEqual(['Code edition in force'])
  })
  test('a state that dropped kitchens and laundries from the list', () => {
    const dropped = under('2020', '2011', [
      {
        requirement: 'arc-fault.places/kitchen',
        effect: 'remove',
        from: day('2021-11-01'),
        source: 'Port Ansel 12-3',
      },
    ])
    expect(judge({ rooms: ['kitchen'] }, dropped)).toMatchObject({
      outcome: 'not-applicable',
      requiredToday: 'no',
    })
    expect(judge({ rooms: ['laundry'] }, dropped)).toMatchObject({ severity: 'improve' })
    const all = under('2020', '2011', [
      {
        requirement: 'arc-fault.places',
        effect: 'remove',
        from: day('2021-11-01'),
        source: 'Port Ansel 12-3',
      },
    ])
    expect(judge({ rooms: ['laundry'] }, all)).toMatchObject({ outcome: 'not-applicable' })
  })
  test('the order of rooms does not matter', () => {
    const rooms = fc.uniqueArray(fc.constantFrom(...(Object.keys(SPACE_KINDS) as SpaceKind[])), {
      maxLength: 5,
    })
    fc.assert(
      fc.property(rooms, fc.constantFrom(...EDITIONS), (list, edition) => {
        const context = under(edition, '1999')
        expect(judge({ rooms: list.toReversed() }, context)).toEqual(judge({ rooms: list }, context))
      }),
    )
  })
})

describe('rooms of a circuit', () => {
  const space = (id: string, kind: SpaceKind) => ({ id, kind, name: id, level: 0 })
  const of = (details: Parameters<typeof item<'circuit'>>[2], ...fed: Equipment[]) => {
    const one = item('c', 'circuit', details)
    const home = { ...homeOf(one, ...fed), spaces: [space('k', 'kitchen'), space('b', 'bedroom')] }
    return roomsOf(one, home)
  }
  test('from what hangs on it', () => {
    expect(
      of(
        { directory: 'Garage' },
        item('r', 'receptacle', {}, { parentId: 'c', spaceId: 'b' }),
        item('l', 'luminaire', {}, { parentId: 'c', spaceId: 'k' }),
        item('q', 'receptacle', {}, { parentId: 'd', spaceId: 'k' }),
      ),
    ).toEqual(['bedroom', 'kitchen'])
    const protector = item('s', 'surge-protector', {}, { parentId: 'c', spaceId: 'b' })
    expect(of({ directory: 'Kitchen' }, protector)).toEqual(['kitchen'])
  })
  test.each([
    ['small-appliance', ['kitchen']],
    ['dishwasher', ['kitchen']],
    ['disposer', ['kitchen']],
    ['laundry', ['laundry']],
    ['bathroom', ['bathroom']],
    ['alarms', ['bedroom', 'hall']],
    ['lighting', []],
  ] as const)('from its use, %s: %o', (serves, rooms) => {
    expect(of({ serves })).toEqual(rooms)
  })
  test('else from its directory line', () => {
    expect(of({ directory: 'NE bedroom receptacles' })).toEqual(['bedroom'])
    expect(of({ directory: 'Hall + living rm lights' })).toEqual(['hall', 'living'])
    expect(of({ directory: 'Basement' })).toEqual([])
    expect(of({})).toEqual([])
  })
  test('inputs of both rules', () => {
    const one = item('c', 'circuit', {
      ratingAmps: 20,
      poles: 1,
      multiwire: false,
      device: 'afci',
      serves: 'laundry',
      outletArcFault: true,
      addedFeet: 7,
      addedOutlets: false,
    })
    const given = {
      ratingAmps: 20,
      poles: 1,
      multiwire: false,
      device: 'afci',
      serves: 'laundry',
      outletArcFault: true,
      rooms: ['laundry'],
    }
    expect(arcFault.inputs(one, homeOf(one))).toEqual(given)
    expect(extension.inputs(one, homeOf(one))).toEqual({ ...given, addedFeet: 7, addedOutlets: false })
    expect(arcFault.judge(circuit, under(null)).rule).toBe(arcFault.id)
    expect(extension.judge(circuit, under(null)).rule).toBe(extension.id)
    expect(arcFault.watches).toEqual(extension.watches)
    expect(arcFault.watches).toEqual(
      expect.arrayContaining(['receptacle', 'switch', 'luminaire', 'alarm', 'disconnect', 'panel', 'other']),
    )
  })
})

describe('a circuit that was changed, NFPA 70 210.12(D) and its exception', () => {
  const changed: ExtensionInputs = { ...circuit, addedFeet: 7, addedOutlets: false }
  const of = (inputs: Partial<ExtensionInputs>, context = under('2020', '1984')) =>
    spoken(judgeExtension({ ...changed, ...inputs }, context))
  test.each([
    // Panel changed, circuit made longer: up to 6 ft without outlets is left as it was.
    [6, false, 'not-applicable'],
    [7, false, 'finding'],
    [6.1, false, 'finding'],
    [2, true, 'finding'],
    [0, true, 'finding'],
    [undefined, true, 'finding'],
  ] as const)('%s ft longer, new outlets %s: %s', (addedFeet, addedOutlets, outcome) => {
    const verdict = of({ addedFeet, addedOutlets })
    expect(verdict).toMatchObject({ rule: 'arc-fault.extension', outcome })
    if (addedFeet !== undefined) {
      expect(figure(verdict, FIELDS.addedFeet.label)).toBe(addedFeet)
      expect(figure(verdict, 'Left as it was up to')).toBe(6)
    } else expect(verdict.figures).toEqual([])
  })
  test('words and articles', () => {
    expect(of({})).toMatchObject({
      severity: 'improve',
      technician:
        'Circuit made 7 ft longer, 6 ft exempt, without arc-fault protection; would be required in new work under the 2020 edition, not when this was built.',
    })
    expect(of({ addedOutlets: true }).technician).toMatch(
      /^Circuit with new outlets, without arc-fault protection; /,
    )
    expect(articles(of({}))).toEqual(['210.12(D)', '210.12(A)'])
    expect(of({ addedFeet: 5 })).toMatchObject({ why: 'made longer by 5 ft without new outlets' })
    expect(of({}, under('2020', '2020'))).toMatchObject({ severity: 'repair' })
  })
  test.each([
    ['2008', 7, 'not-applicable'],
    ['2011', 7, 'finding'],
    ['2011', 6, 'finding'],
    // From memory: the exception is in the 2014 edition.
    ['2014', 6, 'not-applicable'],
    ['2017', 6, 'not-applicable'],
  ] as const)('under %s, %d ft: %s', (edition, addedFeet, outcome) => {
    expect(of({ addedFeet }, under(edition, '1984'))).toMatchObject({ outcome })
  })
  test('protected, outside or unchanged', () => {
    expect(of({ device: 'dual' })).toMatchObject({
      outcome: 'sound',
      technician: 'Circuit changed and arc-fault protected.',
      requiredToday: 'yes',
    })
    for (const none of [{ addedFeet: 0 }, { addedFeet: undefined, addedOutlets: undefined }]) {
      expect(of(none)).toMatchObject({ outcome: 'not-applicable', why: 'nothing was added to the circuit' })
    }
    expect(of({ poles: 2 })).toMatchObject({ why: 'only 120 V circuits are listed' })
    expect(of({ rooms: ['garage'] })).toMatchObject({ why: 'no edition lists such a room' })
    expect(of({ rooms: ['kitchen'] }, under('2011', '1984'))).toMatchObject({ outcome: 'not-applicable' })
  })
  test('unknowns', () => {
    expect(missing(of({ rooms: [] }))).toEqual([FIELDS.directory.label])
    expect(missing(of({ addedFeet: 4, addedOutlets: undefined }))).toEqual([FIELDS.addedOutlets.label])
    expect(missing(of({ device: undefined }))).toEqual([FIELDS.device.label])
    expect(missing(of({}, under(null)))).toEqual(['Code edition in force'])
  })
})
