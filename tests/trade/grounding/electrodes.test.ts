import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import { electrodeClamp, judgeClamp } from '../../../trade/grounding/electrode-clamp.ts'
import { electrodeSpacing, judgeElectrodeSpacing } from '../../../trade/grounding/electrode-spacing.ts'
import { electrodeSystem, judgeElectrodeSystem } from '../../../trade/grounding/electrode-system.ts'
import { electrode, type ElectrodeInputs, judgeElectrode } from '../../../trade/grounding/electrode.ts'
import { judgeWaterPipeEntry, waterPipeEntry } from '../../../trade/grounding/water-pipe-entry.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.electrode
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const now = under('2023', '1999')

describe('measures of an electrode, NFPA 70 250.52', () => {
  const judge = (inputs: ElectrodeInputs, context = now) => spoken(judgeElectrode(inputs, context))
  const rod = { kind: 'rod', listed: true, lengthFeet: 8, diameterInches: 0.5 } as const
  test.each([
    [rod, 'sound'],
    [{ ...rod, lengthFeet: 7.9 }, 'finding'],
    [{ ...rod, listed: false }, 'finding'],
    [{ ...rod, listed: false, diameterInches: 0.625 }, 'sound'],
    // From memory: a listed rod may be 1/2 in.
    [{ ...rod, diameterInches: 0.49 }, 'finding'],
    [{ kind: 'pipe', lengthFeet: 8, diameterInches: 0.75 }, 'sound'],
    [{ kind: 'pipe', lengthFeet: 8, diameterInches: 0.7 }, 'finding'],
    [{ kind: 'pipe', lengthFeet: 7, diameterInches: 0.75 }, 'finding'],
    [{ kind: 'water-pipe', earthContactFeet: 10 }, 'sound'],
    [{ kind: 'water-pipe', earthContactFeet: 9.9 }, 'finding'],
    // From memory: plates, rings and concrete-encased electrodes.
    [{ kind: 'plate', plateSqFt: 2, buriedInches: 30 }, 'sound'],
    [{ kind: 'plate', plateSqFt: 1.9, buriedInches: 30 }, 'finding'],
    [{ kind: 'plate', plateSqFt: 2, buriedInches: 29 }, 'finding'],
    [{ kind: 'concrete-encased', lengthFeet: 20 }, 'sound'],
    [{ kind: 'concrete-encased', lengthFeet: 19 }, 'finding'],
    [{ kind: 'ring', lengthFeet: 20, buriedInches: 30 }, 'sound'],
    [{ kind: 'ring', lengthFeet: 20, buriedInches: 24 }, 'finding'],
    [{ kind: 'ring', lengthFeet: 19, buriedInches: 30 }, 'finding'],
  ] as const)('%o: %s', (inputs, outcome) => {
    expect(judge(inputs)).toMatchObject({
      rule: 'grounding.electrode',
      outcome,
      requiredWhenBuilt: 'yes',
      requiredToday: 'yes',
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
  })
  test('a short rod is told with its figures and article', () => {
    const verdict = judge({ ...rod, lengthFeet: 6 })
    expect(verdict.technician).toBe(
      'Rod: length in the soil 6 ft, 8 ft wanted; it was required when this was built.',
    )
    expect(articles(verdict)).toEqual(['250.52', '250.52', '250.52(A)(5)', '250.52(A)(5)(b)'])
    expect(figure(verdict, FIELDS.lengthFeet.label)).toBe(6)
    expect(figure(verdict, `${FIELDS.lengthFeet.label}, at least`)).toBe(8)
    expect(judge(rod).technician).toBe(
      'Rod: length in the soil 8 ft, 8 ft wanted, diameter 0.5 in, 0.5 in wanted.',
    )
    expect(judge({ kind: 'plate', plateSqFt: 1, buriedInches: 12 }).technician).toBe(
      'Plate: plate surface in the earth 1 ft², 2 ft² wanted, buried how deep 12 in, 30 in wanted; it was required when this was built.',
    )
    expect(articles(judge({ kind: 'water-pipe', earthContactFeet: 3 }))).toContain('250.52(A)(1)')
    expect(articles(judge({ kind: 'concrete-encased', lengthFeet: 3 }))).toContain('250.52(A)(3)')
    expect(articles(judge({ kind: 'ring', lengthFeet: 3 }))).toEqual(
      expect.arrayContaining(['250.52(A)(4)', '250.53(F)']),
    )
    expect(articles(judge({ kind: 'plate', plateSqFt: 1 }))).toEqual(
      expect.arrayContaining(['250.52(A)(7)', '250.53(A)(5)']),
    )
    expect(articles(judge({ kind: 'pipe', lengthFeet: 1 }))).toContain('250.52(A)(5)(a)')
  })
  test.each([
    [{}, [FIELDS.kind.label]],
    [{ kind: 'rod' }, [FIELDS.lengthFeet.label, FIELDS.listed.label]],
    [{ kind: 'rod', lengthFeet: 8, diameterInches: 0.625 }, [FIELDS.listed.label]],
    [{ kind: 'rod', listed: true, lengthFeet: 8 }, [FIELDS.diameterInches.label]],
    [{ kind: 'pipe', lengthFeet: 8 }, [FIELDS.diameterInches.label]],
    [{ kind: 'plate', plateSqFt: 2 }, [FIELDS.buriedInches.label]],
    [{ kind: 'water-pipe' }, [FIELDS.earthContactFeet.label]],
  ] as const)('%o misses %o', (inputs, labels) => {
    expect(missing(judge(inputs))).toEqual(labels)
  })
  test('one short measure is enough for a finding, whatever else is unknown', () => {
    expect(judge({ kind: 'rod', lengthFeet: 4 })).toMatchObject({ outcome: 'finding' })
  })
  test('old homes and unknown editions', () => {
    expect(judge({ ...rod, lengthFeet: 6 }, under('2023', '1965'))).toMatchObject({
      severity: 'improve',
      technician:
        'Rod: length in the soil 6 ft, 8 ft wanted; would be required in new work under the 2023 edition.',
    })
    expect(missing(judge({ ...rod, lengthFeet: 6 }, under(null)))).toEqual(['Code edition in force'])
    expect(articles(judge({ ...rod, lengthFeet: 6 }, under('2023', '1984')))[0]).toBe('250-83')
  })
  test('a longer rod is never judged worse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (a, b) => {
          const of = (lengthFeet: number) => judgeElectrode({ ...rod, lengthFeet }, now).outcome === 'sound'
          if (of(Math.min(a, b))) expect(of(Math.max(a, b))).toBe(true)
        },
      ),
    )
  })
  test('inputs come from the electrode', () => {
    const details = {
      kind: 'plate',
      listed: true,
      lengthFeet: 1,
      diameterInches: 2,
      plateSqFt: 3,
      buriedInches: 4,
      earthContactFeet: 5,
    } as const
    expect(electrode.inputs(item('e', 'electrode', { ...details, clamp: 'loose' }), homeOf())).toEqual(
      details,
    )
    expect(electrode.judge(details, now)).toMatchObject({ rule: electrode.id })
  })
})

describe('distance between electrodes, NFPA 70 250.53(A)(3)', () => {
  const judge = (inputs: Partial<Parameters<typeof judgeElectrodeSpacing>[0]>, context = now) =>
    spoken(judgeElectrodeSpacing({ electrodes: 2, kind: 'rod', ...inputs }, context))
  test.each([
    [4, 'finding'],
    [5.9, 'finding'],
    [6, 'sound'],
    [16, 'sound'],
  ] as const)('%d ft apart: %s', (spacingFeet, outcome) => {
    const verdict = judge({ spacingFeet })
    expect(verdict).toMatchObject({ rule: 'grounding.electrode-spacing', outcome })
    expect(figure(verdict, 'Distance')).toBe(spacingFeet)
    expect(figure(verdict, 'Least distance')).toBe(6)
    if (outcome === 'finding') {
      expect(verdict).toMatchObject({
        severity: 'repair',
        technician: `Next electrode ${spacingFeet} ft away, 6 ft wanted; it was required when this was built.`,
      })
    } else expect(verdict.technician).toBe(`Next electrode ${spacingFeet} ft away, 6 ft wanted.`)
  })
  test('twice the rod length is better: a note, not a rule', () => {
    const verdict = judge({ spacingFeet: 6, lengthFeet: 8 })
    expect(figure(verdict, 'Better')).toBe(16)
    expect(verdict.technician).toBe('Next electrode 6 ft away, 6 ft wanted; 16 ft would be better still.')
  })
  test('editions', () => {
    expect(articles(judge({ spacingFeet: 4 }, under('2023', '1999')))).toEqual(['250.53(B)', '250.53(A)(3)'])
    expect(articles(judge({ spacingFeet: 4 }, under('2011', '1978')))).toEqual(['250-83', '250.53(A)(3)'])
    expect(judge({ spacingFeet: 4 }, under('2023', '1975'))).toMatchObject({ severity: 'improve' })
  })
  test('unknown, alone, or of another kind', () => {
    expect(missing(judge({}))).toEqual([FIELDS.spacingFeet.label])
    expect(missing(judge({ kind: undefined }))).toEqual([FIELDS.kind.label])
    expect(judge({ electrodes: 1 })).toMatchObject({
      outcome: 'not-applicable',
      why: 'no other electrode is recorded',
    })
    expect(judge({ electrodes: 1, spacingFeet: 4 })).toMatchObject({ outcome: 'finding' })
    for (const kind of ['water-pipe', 'concrete-encased', 'ring'] as const) {
      expect(judge({ kind, spacingFeet: 1 })).toMatchObject({
        outcome: 'not-applicable',
        why: 'only rods, pipes and plates are spaced',
      })
    }
    for (const kind of ['pipe', 'plate'] as const)
      expect(judge({ kind, spacingFeet: 1 }).outcome).toBe('finding')
  })
  test('inputs count the electrodes in use', () => {
    const a = item('a', 'electrode', { kind: 'rod', spacingFeet: 6, lengthFeet: 8 })
    const gone = item('b', 'electrode', { kind: 'rod' }, { retiredOn: '2020-01-01' as never })
    expect(electrodeSpacing.inputs(a, homeOf(a, gone))).toEqual({
      kind: 'rod',
      spacingFeet: 6,
      lengthFeet: 8,
      electrodes: 1,
    })
    expect(electrodeSpacing.judge({ electrodes: 1 }, now).rule).toBe(electrodeSpacing.id)
  })
})

describe('electrodes taken together, NFPA 70 250.53', () => {
  const judge = (electrodes: Parameters<typeof judgeElectrodeSystem>[0]['electrodes'], context = now) =>
    spoken(judgeElectrodeSystem({ electrodes }, context))
  test('two rods need no measurement', () => {
    expect(judge([{ kind: 'rod' }, { kind: 'rod', resistanceOhms: 400 }])).toMatchObject({
      rule: 'grounding.electrode-system',
      outcome: 'sound',
      technician: 'Electrodes together: rod, rod.',
      figures: [{ label: 'Electrodes', value: 2, unit: 'count' }],
    })
  })
  test.each([
    ['rod', 25, 'sound'],
    ['rod', 25.1, 'finding'],
    ['plate', 26, 'finding'],
    ['pipe', 10, 'sound'],
  ] as const)('a single %s of %f Ω: %s', (kind, resistanceOhms, outcome) => {
    const verdict = judge([{ kind, resistanceOhms }])
    expect(verdict).toMatchObject({ outcome, ...(outcome === 'finding' && { severity: 'repair' }) })
    expect(figure(verdict, 'Measured')).toBe(resistanceOhms)
    expect(figure(verdict, 'Enough alone up to')).toBe(25)
    expect(verdict.technician).toMatch(
      `A single ${kind} measuring ${resistanceOhms} Ω, 25 Ω at most without a second`,
    )
  })
  test('a single rod, not measured: asked for since 2011, open before', () => {
    expect(judge([{ kind: 'rod' }], under('2023', '2011'))).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician:
        'A single rod, not measured: add a second or prove 25 Ω or less; it was required when this was built.',
    })
    expect(judge([{ kind: 'rod' }], under('2023', '2008'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(missing(judge([{ kind: 'rod' }], under('2008', '2008')))).toEqual([FIELDS.resistanceOhms.label])
    expect(missing(judge([{ kind: 'rod' }], under(null)))).toEqual([
      FIELDS.resistanceOhms.label,
      'Code edition in force',
    ])
    expect(judge([{ kind: 'rod' }], under(null, '2011'))).toMatchObject({ severity: 'repair' })
    expect(articles(judge([{ kind: 'rod' }], under('2023', '2011')))).toEqual([
      '250.53(A)(2)',
      '250.53(A)(2)',
    ])
  })
  test('above 25 Ω the older editions asked too', () => {
    const poor = [{ kind: 'rod', resistanceOhms: 60 }] as const
    expect(articles(judge(poor, under('2023', '1984')))).toEqual(['250-84', '250.53(A)(2)'])
    expect(articles(judge(poor, under('2008', '2002')))).toEqual(['250.56', '250.56'])
    expect(missing(judge(poor, under(null)))).toEqual(['Code edition in force'])
    expect(judge(poor, under('2023', '1971'))).toMatchObject({ severity: 'improve' })
  })
  test('a water pipe is never enough alone; with a rod it is', () => {
    expect(judge([{ kind: 'water-pipe' }])).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician:
        'The water pipe is the only electrode; another is needed beside it; it was required when this was built.',
    })
    expect(articles(judge([{ kind: 'water-pipe' }]))).toEqual(['250.53(D)(2)', '250.53(D)(2)'])
    expect(judge([{ kind: 'water-pipe' }, { kind: 'water-pipe' }])).toMatchObject({ outcome: 'finding' })
    // From memory: first asked in 1978.
    expect(judge([{ kind: 'water-pipe' }], under('2023', '1975'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'no',
    })
    expect(judge([{ kind: 'water-pipe' }, { kind: 'rod', resistanceOhms: 25 }])).toMatchObject({
      outcome: 'sound',
      technician: 'Electrodes together: metal water pipe, rod.',
      inputs: { resistanceOhms: 25 },
    })
  })
  // NFPA 70-2023 250.53(D)(2), last sentence, against an interpretation of the State of North Carolina: no third is needed.
  test.each([
    [[{ kind: 'water-pipe' }, { kind: 'rod' }], true],
    [[{ kind: 'plate', resistanceOhms: 26 }, { kind: 'water-pipe' }], true],
    [[{ kind: 'water-pipe' }, { kind: 'rod' }, { kind: 'rod' }], false],
    [[{ kind: 'water-pipe' }, { kind: 'ring' }], false],
    [[{ kind: 'water-pipe' }, { kind: 'ring' }, { kind: 'rod' }], false],
    [[{ kind: 'rod' }, { kind: 'rod' }], false],
  ] as const)('%j: sound, and told that authorities differ: %s', (electrodes, isTold) => {
    const verdict = judge(electrodes)
    expect(verdict.outcome).toBe('sound')
    expect(verdict.technician.includes('Where the authority reads 250.53(D)(2) strictly')).toBe(isTold)
  })
  test.each(['concrete-encased', 'ring'] as const)('a %s is enough alone', (kind) => {
    expect(judge([{ kind }])).toMatchObject({ outcome: 'sound' })
  })
  test('nothing recorded is not nothing there', () => {
    expect(missing(judge([]))).toEqual(['Grounding electrodes'])
    expect(missing(judge([{ kind: 'rod' }, {}]))).toEqual([FIELDS.kind.label])
  })
  test('the order of electrodes does not matter', () => {
    const kind = fc.constantFrom('rod', 'pipe', 'plate', 'water-pipe', 'ring', 'concrete-encased', undefined)
    const one = fc.record({
      kind,
      resistanceOhms: fc.option(fc.integer({ min: 1, max: 100 }), { nil: undefined }),
    })
    fc.assert(
      fc.property(fc.array(one, { maxLength: 4 }), (list) => {
        expect(judge(list.toReversed())).toEqual(judge(list))
      }),
    )
  })
  test('inputs from the home', () => {
    const home = homeOf(item('a', 'electrode', { kind: 'rod', resistanceOhms: 20, lengthFeet: 8 }))
    const inputs = electrodeSystem.inputs(home)
    expect(inputs).toEqual({ electrodes: [{ kind: 'rod', resistanceOhms: 20 }] })
    expect(electrodeSystem.judge(inputs, now)).toMatchObject([{ rule: electrodeSystem.id, outcome: 'sound' }])
    expect(electrodeSystem.watches).toEqual(['electrode'])
  })
})

describe('clamp, NFPA 70 250.70 (from memory)', () => {
  test.each(['loose', 'corroded', 'missing'] as const)('%s is a defect in any edition', (clamp) => {
    expect(spoken(judgeClamp({ clamp }))).toMatchObject({
      rule: 'grounding.electrode-clamp',
      outcome: 'finding',
      severity: 'repair',
      technician: `Electrode clamp ${clamp}: the electrode cannot be relied on.`,
      references: [{ code: 'NFPA 70', article: '250.70' }],
    })
  })
  test('sound or unknown', () => {
    expect(spoken(judgeClamp({ clamp: 'sound' }))).toMatchObject({
      outcome: 'sound',
      technician: 'Electrode clamp sound.',
    })
    expect(missing(spoken(judgeClamp({})))).toEqual([FIELDS.clamp.label])
    expect(electrodeClamp.inputs(item('e', 'electrode', { clamp: 'loose' }), homeOf())).toEqual({
      clamp: 'loose',
    })
    expect(electrodeClamp.judge({}, now).rule).toBe(electrodeClamp.id)
  })
})

describe('water pipe near its entry, NFPA 70 250.68(C)', () => {
  const judge = (bondedFromEntryFeet?: number, context = now) =>
    spoken(judgeWaterPipeEntry({ kind: 'water-pipe', bondedFromEntryFeet }, context))
  test.each([
    [5, 'sound'],
    [5.1, 'finding'],
  ] as const)('%d ft: %s', (feet, outcome) => {
    expect(judge(feet)).toMatchObject({
      rule: 'grounding.water-pipe-entry',
      outcome,
      figures: [{ label: 'Farthest from the entry', value: 5, unit: 'ft' }],
    })
    expect(judge(feet).technician).toMatch(`Water pipe connected ${feet} ft from its entry, 5 ft at most`)
  })
  test('editions, unknowns and other electrodes', () => {
    expect(judge(9, under('2023', '1990'))).toMatchObject({ severity: 'improve', requiredWhenBuilt: 'no' })
    expect(articles(judge(9, under('2023', '1993')))).toEqual(['250-81', '250.68(C)(1)'])
    expect(judge(9, under('2023', '1993'))).toMatchObject({ severity: 'repair' })
    expect(missing(judge())).toEqual([FIELDS.bondedFromEntryFeet.label])
    expect(missing(spoken(judgeWaterPipeEntry({}, now)))).toEqual([FIELDS.kind.label])
    expect(spoken(judgeWaterPipeEntry({ kind: 'rod' }, now))).toMatchObject({
      outcome: 'not-applicable',
      why: 'the electrode is no water pipe',
    })
    const inputs = waterPipeEntry.inputs(
      item('e', 'electrode', { kind: 'rod', bondedFromEntryFeet: 2 }),
      homeOf(),
    )
    expect(inputs).toEqual({ kind: 'rod', bondedFromEntryFeet: 2 })
    expect(waterPipeEntry.judge(inputs, now).rule).toBe(waterPipeEntry.id)
  })
})
