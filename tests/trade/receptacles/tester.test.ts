import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { TESTER } from '../../../trade/checklist/readings.ts'
import {
  type Lamps,
  patternOfLamps,
  PATTERNS,
  TESTER_CANNOT_SEE,
  type TesterPattern,
} from '../../../trade/receptacles/tester-patterns.ts'
import { judgeTester, tester, type TesterInputs } from '../../../trade/receptacles/tester.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const judge = (inputs: TesterInputs, context = under('2023', '1999')) => spoken(judgeTester(inputs, context))

/** A receptacle as the tester meets it: what each slot is wired to. A lamp lights between the line and zero. */
type Wire = 'line' | 'zero' | 'open'
function simulate(slots: { hot: Wire; neutral: Wire; ground: Wire }): Lamps {
  const across = (a: Wire, b: Wire) => a !== 'open' && b !== 'open' && a !== b
  return {
    neutralGround: across(slots.neutral, slots.ground),
    hotNeutral: across(slots.hot, slots.neutral),
    hotGround: across(slots.hot, slots.ground),
  }
}
const pattern = (hot: Wire, neutral: Wire, ground: Wire) => patternOfLamps(simulate({ hot, neutral, ground }))

describe('lamps, legend of three-light testers', () => {
  test.each([
    [[0, 1, 1], 'correct'],
    [[0, 1, 0], 'open-ground'],
    [[0, 0, 1], 'open-neutral'],
    [[0, 0, 0], 'open-hot'],
    [[1, 0, 1], 'hot-ground-reversed'],
    [[1, 1, 0], 'hot-neutral-reversed'],
    [[1, 1, 1], 'all-lit'],
    [[1, 0, 0], null],
  ] as const)('neutral-ground, hot-neutral, hot-ground %o: %s', ([ng, hn, hg], name) => {
    expect(patternOfLamps({ neutralGround: !!ng, hotNeutral: !!hn, hotGround: !!hg })).toBe(name)
  })
  test.each([
    ['line', 'zero', 'zero', 'correct'],
    ['line', 'zero', 'open', 'open-ground'],
    ['line', 'open', 'zero', 'open-neutral'],
    ['open', 'zero', 'zero', 'open-hot'],
    ['zero', 'zero', 'line', 'hot-ground-reversed'],
    ['zero', 'line', 'zero', 'hot-neutral-reversed'],
  ] as const)(
    'derived from the wiring: hot slot %s, neutral slot %s, ground slot %s: %s',
    (hot, neutral, ground, name) => {
      expect(pattern(hot, neutral, ground)).toBe(name)
    },
  )
  test('a bootleg ground reads correct, and so does a reversed bootleg with live metal', () => {
    expect(pattern('line', 'zero', 'zero')).toBe('correct')
    expect(pattern('zero', 'line', 'line')).toBe('correct')
    expect(TESTER_CANNOT_SEE.filter((each) => each.includes('bootleg'))).toHaveLength(2)
    expect(TESTER_CANNOT_SEE.length).toBeGreaterThanOrEqual(6)
    for (const each of TESTER_CANNOT_SEE) expect(each).toMatch(/\w+ \w+/)
  })
  test('with the ground open, reversed polarity reads like an open ground', () => {
    expect(pattern('zero', 'line', 'open')).toBe(pattern('line', 'zero', 'open'))
  })
  test('a load elsewhere turns an open neutral into a reversal of hot and ground', () => {
    // The load pulls the cut-off neutral slot up to the line.
    expect(pattern('line', 'line', 'zero')).toBe('hot-ground-reversed')
    expect(pattern('line', 'zero', 'line')).toBe('hot-neutral-reversed')
  })
})

describe('verdict of the tester', () => {
  test.each([
    [
      'correct',
      'sound',
      'Tester shows correct, bootleg not excluded: ground quality and a ground-neutral swap stay unseen.',
    ],
    ['open-neutral', 'repair', 'Open neutral; unplug loads, then confirm with a meter to a known ground.'],
    [
      'open-hot',
      'investigate',
      'Open hot, or switched off or tripped; unplug loads, then confirm with a meter to a known ground.',
    ],
    [
      'hot-ground-reversed',
      'unsafe',
      'Hot and ground reversed, or open neutral with a load; unplug loads, then confirm with a meter to a known ground.',
    ],
    [
      'hot-neutral-reversed',
      'repair',
      'Hot and neutral reversed, or open ground with a load; unplug loads, then confirm with a meter to a known ground.',
    ],
    [
      'all-lit',
      'investigate',
      'All lamps lit, which stands in no legend: suspect a loose neutral or a connected load; unplug loads, then confirm with a meter to a known ground.',
    ],
  ] as const)('%s: %s', (name, answer, technician) => {
    const verdict = judge({ pattern: name })
    expect(verdict.rule).toBe('receptacles.tester')
    expect(verdict.outcome === 'finding' ? verdict.severity : verdict.outcome).toBe(answer)
    expect(verdict.technician).toBe(technician)
    // The same by its lamps.
    const { inputs: _, ...byLamps } = judge({ lamps: PATTERNS[name].lamps })
    const { inputs: __, ...byName } = verdict
    expect(byLamps).toEqual(byName)
  })
  test('never "properly grounded"', () => {
    for (const name of Object.keys(PATTERNS) as TesterPattern[]) {
      for (const words of [judge({ pattern: name }).technician, judge({ pattern: name }).homeowner]) {
        expect(words).not.toMatch(/properly|well grounded/i)
      }
    }
  })
  test('an open ground names the three options and that polarity cannot be told', () => {
    expect(judge({ pattern: 'open-ground' })).toMatchObject({
      outcome: 'finding',
      severity: 'repair',
      technician:
        'Open ground; polarity not determinable by the tester; options: (a) a two-slot receptacle again, (b) a ground-fault receptacle marked "No Equipment Ground", (c) a three-slot receptacle behind a ground-fault device, marked "GFCI Protected" and "No Equipment Ground".',
    })
    expect(judge({ pattern: 'open-ground', ungroundedProtected: true })).toMatchObject({
      severity: 'improve',
      technician:
        'Open ground; polarity not determinable by the tester; the ungrounded receptacles recorded here are ground-fault protected.',
    })
  })
  test('loads already unplugged need no reminder', () => {
    expect(judge({ pattern: 'open-neutral', loadsUnplugged: true }).technician).toBe(
      'Open neutral; confirm with a meter to a known ground.',
    )
  })
  test('a combination that no wiring gives is looked into', () => {
    expect(judge({ lamps: { neutralGround: true, hotNeutral: false, hotGround: false } })).toMatchObject({
      outcome: 'finding',
      severity: 'investigate',
      technician: expect.stringMatching(/^Only the neutral-ground lamp lit/),
      inputs: { pattern: null, neutralGround: true, hotNeutral: false, hotGround: false },
    })
  })
  test('counts and clocks', () => {
    const verdict = judge({ pattern: 'correct', sampled: 5, opened: 1 })
    expect(verdict.figures).toEqual([
      { label: TESTER.sampled.label, value: 5, unit: 'count' },
      { label: TESTER.opened.label, value: 1, unit: 'count' },
    ])
    expect(verdict).toMatchObject({ requiredWhenBuilt: 'yes', requiredToday: 'yes' })
    expect(articles(judge({ pattern: 'correct' }, under('2023', '1984')))).toEqual(['200-11', '200.11'])
    expect(judge({ pattern: 'correct' }).figures).toEqual([])
  })
  test('unknown patterns and two-slot outlets', () => {
    expect(missing(judge({}))).toEqual([TESTER.pattern.label])
    expect(missing(judge({ onlyTwoSlot: true }))).toEqual([
      'Polarity by a meter to a known ground (not determinable by the tester)',
    ])
    expect(judge({ onlyTwoSlot: true, pattern: 'open-neutral' })).toMatchObject({ outcome: 'finding' })
  })
  test('the edition never changes what the lamps mean', () => {
    fc.assert(
      fc.property(fc.constantFrom(...(Object.keys(PATTERNS) as TesterPattern[])), (name) => {
        const { outcome } = judge({ pattern: name }, under(null))
        expect(outcome).toBe(judge({ pattern: name }).outcome)
      }),
    )
  })
})

describe('inputs of the tester', () => {
  const space = { id: 's', kind: 'bedroom', name: 'Bed', level: 0 } as const
  const at = (id: string, details: object, spaceId = 's') => item(id, 'receptacle', details, { spaceId })
  const of = (...receptacles: ReturnType<typeof at>[]) =>
    tester.inputs({ pattern: 'open-ground' }, { space }, homeOf(...receptacles))
  test('ungrounded receptacles of this room decide, all of them', () => {
    const guarded = at('a', { groundPresent: false, groundFault: 'upstream' })
    const bare = at('b', { groundPresent: false, groundFault: 'none' })
    expect(of().ungroundedProtected).toBe(false)
    expect(of(guarded).ungroundedProtected).toBe(true)
    expect(of(guarded, bare).ungroundedProtected).toBe(false)
    expect(of(at('c', { groundPresent: false })).ungroundedProtected).toBe(false)
    expect(of(at('d', { groundPresent: true, groundFault: 'upstream' })).ungroundedProtected).toBe(false)
    expect(
      of(guarded, at('e', { groundPresent: false, groundFault: 'none' }, 'other')).ungroundedProtected,
    ).toBe(true)
    expect(of(guarded, at('f', { groundPresent: true, groundFault: 'none' })).ungroundedProtected).toBe(true)
  })
  test('two-slot only where every receptacle is', () => {
    expect(of().onlyTwoSlot).toBe(false)
    expect(of(at('a', { slots: 'two' })).onlyTwoSlot).toBe(true)
    expect(of(at('a', { slots: 'two' }), at('b', { slots: 'three' })).onlyTwoSlot).toBe(false)
    expect(
      of(at('a', { slots: 'two' }), item('l', 'luminaire', {}, { spaceId: 's' }) as never).onlyTwoSlot,
    ).toBe(true)
  })
  test('readings are handed on; without a room nothing of the home is', () => {
    const readings = { pattern: 'correct', loadsUnplugged: true, sampled: 3, opened: 1 } as const
    expect(tester.inputs(readings, { space: null }, homeOf(at('a', { slots: 'two' })))).toEqual({
      ...readings,
      ungroundedProtected: false,
      onlyTwoSlot: false,
    })
    expect(tester.judge({}, under(null)).rule).toBe(tester.id)
  })
})
