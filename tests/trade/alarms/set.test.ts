import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { coExpectation, coPoints, judgeCoPoint } from '../../../trade/alarms/co-points.ts'
import { interconnection, judgeInterconnection } from '../../../trade/alarms/interconnection.ts'
import { judgeMixedAges, mixedAges } from '../../../trade/alarms/mixed-ages.ts'
import { judgePermitUpgrade, type WorkKind } from '../../../trade/alarms/permit-upgrade.ts'
import type { AlarmAge } from '../../../trade/alarms/replacement.ts'
import type { Edition } from '../../../trade/editions.ts'
import { context, d, device, home, smokeIn } from './build.ts'

const NOW = context('2023')

describe('interconnection: IRC R314.4', () => {
  const joined = { interconnected: true, heardElsewhere: true }
  const alone = { interconnected: false, heardElsewhere: null }
  const unknown = { interconnected: null, heardElsewhere: null }
  const judge = (alarms: Parameters<typeof judgeInterconnection>[0]['alarms'], ctx = NOW) =>
    judgeInterconnection({ alarms }, ctx)[0]!

  test.each([
    [[joined, joined], 'sound'],
    [[joined, alone], 'finding'],
    [[alone, unknown], 'finding'],
    [[joined, unknown], 'undetermined'],
    [[joined], 'not-applicable'],
    [[], 'not-applicable'],
    [[joined, { interconnected: true, heardElsewhere: null }], 'sound'],
    [[joined, { interconnected: true, heardElsewhere: false }], 'finding'],
  ])('%j: %s', (alarms, outcome) => {
    expect(judge(alarms)).toMatchObject({ rule: 'alarms.interconnection', outcome })
  })

  test('counts, severity and article', () => {
    expect(judge([joined, alone, unknown])).toMatchObject({
      severity: 'repair',
      inputs: { alarms: 3, apart: 1, unknown: 1, unheard: 0 },
      references: [{ code: 'IRC', article: 'R310.4' }],
    })
    expect(judge([joined, alone]).technician).toContain('1 of 2 smoke alarms sound alone')
    expect(judge([joined, alone], context('2023', null))).toMatchObject({ severity: 'improve' })
    expect(judge([joined, joined]).technician).toBe('All 2 smoke alarms are joined.')
    expect(judge([unknown, unknown])).toMatchObject({ missing: ['Interconnected: each alarm'] })
  })

  test('marked as joined and not heard is a defect in any home', () => {
    const verdict = judge([joined, { interconnected: true, heardElsewhere: false }, alone], context(null))
    expect(verdict).toMatchObject({ outcome: 'finding', severity: 'repair' })
    expect(verdict.technician).toBe('1 of 3 alarms marked as joined were not heard from the others.')
    expect(
      judge([alone, { interconnected: false, heardElsewhere: false }], context('2023', null)),
    ).toMatchObject({
      severity: 'improve',
    })
  })

  test.each<[Edition, string, string]>([
    ['1999', 'R317.2', 'from memory'],
    ['2005', 'R313.2', 'from memory'],
    ['2008', 'R314.3', 'from memory'],
    ['2011', 'R314.5', 'IRC-2012 R314.5'],
    ['2014', 'R314.4', 'IRC R314.4'],
  ])('with NFPA 70-%s it stands in IRC %s (%s)', (edition, article) => {
    expect(judge([joined, alone], context(edition)).references).toEqual([{ code: 'IRC', article }])
  })

  test('inputs: smoke alarms in use', () => {
    const alarms = [
      smokeIn(null, { interconnected: true, heardElsewhere: false }),
      smokeIn(null, { senses: 'smoke-and-co' }),
      device('alarm', { senses: 'co', interconnected: false }),
      { ...smokeIn(null), retiredOn: d('2024-01-01') },
    ]
    expect(interconnection.inputs(home([], alarms))).toEqual({
      alarms: [
        { interconnected: true, heardElsewhere: false },
        { interconnected: null, heardElsewhere: null },
      ],
    })
    expect(interconnection.watches).toEqual(['alarm'])
  })

  test('the order of alarms does not matter', () => {
    const set = fc.array(fc.constantFrom(joined, alone, unknown), { maxLength: 6 })
    fc.assert(
      fc.property(set, (alarms) => {
        expect(judge([...alarms].reverse())).toEqual(judge(alarms))
      }),
    )
  })
})

describe('ages of the set (common practice, no source)', () => {
  const made = (manufacturedOn: string | null): AlarmAge => ({
    senses: 'smoke',
    manufacturedOn: manufacturedOn ? d(manufacturedOn) : null,
    installedOn: null,
    labelText: null,
    makerLifeYears: null,
    coLifeYears: null,
  })
  const judge = (...alarms: AlarmAge[]) => judgeMixedAges({ alarms }, NOW)[0]!

  test('more than a year apart is told, no defect', () => {
    const verdict = judge(made('2018-03-02'), made('2017-03-01'), made('2017-09-01'))
    expect(verdict).toMatchObject({
      rule: 'alarms.ages',
      outcome: 'finding',
      severity: 'watch',
      inputs: { alarms: 3, undated: 0, first: '2027-03-01', last: '2028-03-02' },
      requiredToday: 'no',
      requiredWhenBuilt: 'no',
      references: [{ code: 'common practice' }],
    })
    expect(verdict.technician).toContain('between March 1, 2027 and March 2, 2028')
  })
  test('within a year is one set', () => {
    expect(judge(made('2018-03-01'), made('2017-03-01')).outcome).toBe('sound')
  })
  test('an undated alarm leaves it open', () => {
    expect(judge(made(null), made('2017-03-01'))).toMatchObject({
      outcome: 'undetermined',
      inputs: { undated: 1 },
      missing: ['Date on the label of each alarm'],
    })
  })
  test('one alarm or none is no set', () => {
    expect(judge(made('2018-03-01')).outcome).toBe('not-applicable')
    expect(judge()).toMatchObject({ outcome: 'not-applicable', inputs: { first: null, last: null } })
  })
  test('inputs', () => {
    const alarms = [smokeIn(null, { labelText: '2315' }), { ...smokeIn(null), retiredOn: d('2024-01-01') }]
    expect(mixedAges.inputs(home([], alarms)).alarms).toEqual([{ ...made(null), labelText: '2315' }])
    expect(mixedAges.watches).toEqual(['alarm'])
  })
  test('the order of alarms does not matter', () => {
    const day = fc.integer({ min: 2008, max: 2025 }).map((year) => made(`${year}-06-01`))
    fc.assert(
      fc.property(fc.array(day, { maxLength: 6 }), (alarms) => {
        expect(judge(...[...alarms].reverse())).toEqual(judge(...alarms))
      }),
    )
  })
})

describe('CO alarm points: UL 2034', () => {
  test.each<[number, number, boolean, string, string | undefined, string]>([
    [70, 59, true, 'finding', 'repair', 'CO1: silent required'],
    [70, 59, false, 'sound', undefined, 'CO1: silent required'],
    [70, 60, true, 'sound', undefined, 'from 60 min on it may'],
    [70, 61, true, 'sound', undefined, 'CO1: either'],
    [70, 61, false, 'sound', undefined, 'CO1: either'],
    [70, 240, false, 'sound', undefined, 'until 240 min it need not'],
    [70, 241, false, 'finding', 'unsafe', 'CO1: fail if silent'],
    [70, 241, true, 'sound', undefined, 'CO1'],
    [150, 9, false, 'sound', undefined, 'CO2: silent'],
    [150, 9, true, 'finding', 'repair', 'CO2: silent'],
    [150, 51, false, 'finding', 'unsafe', 'CO2: must have sounded'],
    [150, 50, false, 'sound', undefined, 'CO2'],
    [400, 3, true, 'finding', 'repair', 'CO3: silent'],
    [400, 3, false, 'sound', undefined, 'CO3: silent'],
    [400, 16, false, 'finding', 'unsafe', 'CO3: must have sounded'],
    [400, 15, false, 'sound', undefined, 'CO3'],
    [30, 43_199, true, 'finding', 'repair', '30 ppm for 30 days'],
    [30, 43_200, true, 'sound', undefined, '30 ppm for 30 days'],
    [30, 50_000, false, 'sound', undefined, '30 ppm never has to sound'],
    [100, 240, false, 'sound', undefined, 'between the rows: no later than at 70'],
    [100, 241, false, 'finding', 'unsafe', 'between the rows: no later than at 70'],
    [100, 9, true, 'finding', 'repair', 'between the rows: no earlier than at 150'],
    [50, 59, true, 'finding', 'repair', 'between the rows: no earlier than at 70'],
    [50, 9999, false, 'sound', undefined, 'below 70 it never has to'],
    [1000, 0, true, 'sound', undefined, 'above the table'],
    [1000, 16, false, 'finding', 'unsafe', 'above the table: no later than at 400'],
  ])('%i ppm at %i min, sounded %s: %s %s (%s)', (ppm, minutes, sounded, outcome, severity) => {
    const verdict = judgeCoPoint({ ppm, minutes, sounded })
    expect(verdict).toMatchObject({
      rule: 'alarms.co-points',
      outcome,
      references: [{ code: 'UL 2034', article: 'sensitivity table' }],
    })
    expect(verdict.outcome === 'finding' ? verdict.severity : undefined).toBe(severity)
  })

  test('figures and words', () => {
    expect(judgeCoPoint({ ppm: 150, minutes: 51, sounded: false })).toMatchObject({
      technician: 'Silent after 51 min at 150 ppm; it had to sound by 50 min.',
      figures: [
        { label: 'Silent until, minutes', value: 10, unit: 'count' },
        { label: 'Sounded by, minutes', value: 50, unit: 'count' },
      ],
    })
    expect(judgeCoPoint({ ppm: 400, minutes: 3, sounded: true }).technician).toBe(
      'Sounded after 3 min at 400 ppm; silent wanted until 4 min.',
    )
    expect(judgeCoPoint({ ppm: 30, minutes: 3, sounded: false })).toMatchObject({
      technician: 'Silent at 3 min and 30 ppm, as it should.',
      figures: [{ value: 43_200 }],
    })
    expect(judgeCoPoint({ ppm: 400, minutes: 9, sounded: true }).technician).toContain('Sounded at 9 min')
    expect(judgeCoPoint({ ppm: 30, minutes: 3, sounded: false }).figures).toHaveLength(1)
  })

  test('more gas is never allowed to sound later', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 900 }), (ppm) => {
        const [less, more] = [coExpectation(ppm), coExpectation(ppm + 1)]
        expect(more.silentMinutes).toBeLessThanOrEqual(less.silentMinutes)
        expect(more.soundedMinutes).toBeLessThanOrEqual(less.soundedMinutes)
      }),
    )
  })

  test('unknown and none', () => {
    expect(judgeCoPoint({})).toMatchObject({
      outcome: 'undetermined',
      missing: ['Carbon monoxide, ppm', 'Minutes at that level', 'Has sounded'],
    })
    expect(judgeCoPoint({ ppm: 70, minutes: 1 })).toMatchObject({ missing: ['Has sounded'] })
    expect(judgeCoPoint({ ppm: 0, minutes: 1, sounded: true }).outcome).toBe('not-applicable')
    const readings = { ppm: 70, minutes: 1, sounded: true }
    expect(coPoints.inputs({ ...readings, other: 1 } as never, { space: null }, home([]))).toEqual(readings)
  })
})

describe('work under a permit: IRC R314.2.2', () => {
  const judge = (work: WorkKind | null, needsPermit: boolean | null, ctx = NOW) =>
    judgePermitUpgrade({ work, needsPermit }, ctx)

  test('SA10: a panel swap under permit asks for alarms as in a new dwelling', () => {
    expect(judge('electrical', true)).toMatchObject({
      rule: 'alarms.permit-upgrade',
      outcome: 'finding',
      severity: 'improve',
      requiredToday: 'yes',
      references: [{ code: 'IRC', article: 'R310.2.2' }],
      inputs: { work: 'electrical', needsPermit: true },
    })
    expect(judge('interior', true).outcome).toBe('finding')
  })
  test.each<[Edition, string, string]>([
    ['2008', 'R314.3.1', 'IRC-2009 R314.3.1'],
    ['2014', 'R314.2.2', 'IRC R314.2.2'],
  ])('with NFPA 70-%s: IRC %s (%s)', (edition, article) => {
    expect(judge('electrical', true, context(edition)).references).toEqual([{ code: 'IRC', article }])
  })
  test('SA10: Michigan R 408.30546 exempts it', () => {
    const michigan = context('2023', null, {
      amendments: [
        {
          requirement: 'alarms.permit-upgrade',
          effect: 'remove',
          from: d('2016-02-08'),
          source: 'Michigan R 408.30546',
        },
      ],
    })
    const verdict = judge('electrical', true, michigan)
    expect(verdict).toMatchObject({ outcome: 'not-applicable', why: 'not asked for here' })
    expect(verdict.references[0]?.code).toBe('Michigan R 408.30546')
  })
  test.each(['exterior', 'plumbing', 'mechanical'] as const)(
    '%s work is exempt in the model code',
    (work) => {
      expect(judge(work, true)).toMatchObject({
        outcome: 'not-applicable',
        why: 'the code exempts this kind of work',
      })
      expect(judge(work, null).outcome).toBe('not-applicable')
    },
  )
  test('no permit, no prompt', () => {
    expect(judge('electrical', false)).toMatchObject({ why: 'the work needs no permit' })
    expect(judge(null, false).outcome).toBe('not-applicable')
  })
  test('unknowns are named', () => {
    expect(judge(null, null, context(null))).toMatchObject({
      outcome: 'undetermined',
      missing: ['Kind of work', 'Whether the work needs a permit', 'Code edition in force'],
    })
    expect(judge('electrical', null)).toMatchObject({ missing: ['Whether the work needs a permit'] })
  })
})
