import { describe, expect, test } from 'vitest'
import { judgeTerminations, terminations } from '../../../trade/receptacles/terminations.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { figure, homeOf, spoken, under } from '../overcurrent/verdicts.ts'

const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)

describe('terminations of opened receptacles, common practice', () => {
  const good = {
    openedCount: 4,
    nicked: false,
    pushIn: 'none',
    loopRight: true,
    insulationUnderScrew: false,
    tight: true,
    unusedScrewsIn: true,
    groundConnected: true,
  } as const
  test.each([
    [{ tight: false }, 'repair', 'terminal loose'],
    [{ pushIn: 'loose' }, 'repair', 'push-in terminations loose'],
    [{ pushIn: 'tight' }, 'improve', 'push-in terminations: move to the screws'],
    [{ nicked: true }, 'repair', 'conductor cut or nicked'],
    [{ insulationUnderScrew: true }, 'repair', 'insulation under a screw'],
    [{ loopRight: false }, 'improve', 'loop not in the turning direction'],
    [{ unusedScrewsIn: false }, 'improve', 'unused screws not driven in'],
    [{ groundConnected: false }, 'repair', 'grounding conductor not connected'],
    [{ pushIn: 'tight', tight: false }, 'repair', 'terminal loose, push-in terminations: move to the screws'],
  ] as const)('%o: %s', (fault, severity, words) => {
    const verdict = spoken(judgeTerminations({ ...good, ...fault }))
    expect(verdict).toMatchObject({
      rule: 'receptacles.terminations',
      outcome: 'finding',
      severity,
      technician: `Opened receptacles: ${words}.`,
    })
    expect(verdict.homeowner).toMatch(severity === 'improve' ? 'could be joined better' : 'could run warm')
  })
  test('sound, counted and cited', () => {
    const verdict = spoken(judgeTerminations(good))
    expect(verdict).toMatchObject({
      outcome: 'sound',
      technician: 'Terminations of the opened receptacles sound.',
      references: [{ code: 'NFPA 70', article: '110.14' }, { code: 'common practice' }],
    })
    expect(figure(verdict, 'Opened')).toBe(4)
  })
  test('one fault is enough; otherwise all must be known', () => {
    expect(spoken(judgeTerminations({ tight: false }))).toMatchObject({ outcome: 'finding', figures: [] })
    expect(missing(spoken(judgeTerminations({})))).toEqual([
      'Tight',
      'Push-in terminations',
      'Conductor cut or nicked',
      'Insulation under a screw',
      'Loops round the screw, in the turning direction',
      'Unused screws driven in',
      'Grounding conductor connected',
    ])
    expect(missing(spoken(judgeTerminations({ ...good, tight: undefined })))).toEqual(['Tight'])
    expect(terminations.inputs(good, { space: null }, homeOf())).toEqual(good)
    expect(terminations.judge({}, under(null)).rule).toBe(terminations.id)
  })
})
