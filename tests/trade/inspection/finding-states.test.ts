import { describe, expect, test } from 'vitest'
import {
  FINDING_STATES,
  FINDING_STEPS,
  type FindingState,
  isClosed,
  mayBecome,
  REVIEW_OUTCOMES,
  type ReviewOutcome,
  stateAfterReview,
} from '../../../trade/inspection/finding-states.ts'
import { gravity, isLowered, needsLoweredReason } from '../../../trade/inspection/severity.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'

const STATES = Object.keys(FINDING_STATES) as FindingState[]

test('a finding goes from open over estimate, acceptance and booking to a checked correction', () => {
  const life: FindingState[] = ['open', 'on-estimate', 'accepted', 'booked', 'corrected', 'checked']
  for (const [i, state] of life.slice(1).entries()) expect(mayBecome(life[i]!, state)).toBe(true)
})

test.each<[FindingState, FindingState]>([
  ['open', 'booked'],
  ['open', 'checked'],
  ['on-estimate', 'booked'],
  ['declined', 'booked'],
  ['checked', 'open'],
  ['no-longer-applies', 'open'],
  ['accepted', 'open'],
  ['booked', 'declined'],
])('%s never becomes %s at once', (from, to) => {
  expect(mayBecome(from, to)).toBe(false)
})

test('a declined finding may be offered, accepted or put right later', () => {
  const next = FINDING_STEPS.filter(({ from }) => from === 'declined').map(({ to }) => to)
  expect(next).toEqual(['on-estimate', 'accepted', 'corrected', 'no-longer-applies'])
})

test('only a checked correction and a part that is gone close a finding', () => {
  expect(STATES.filter(isClosed)).toEqual(['checked', 'no-longer-applies'])
})

test('every state can be reached, and no step leads nowhere new', () => {
  const reached = new Set<FindingState>(['open'])
  for (let grown = true; grown;) {
    const before = reached.size
    for (const { from, to } of FINDING_STEPS) if (reached.has(from)) reached.add(to)
    grown = reached.size > before
  }
  expect([...reached].sort()).toEqual([...STATES].sort())
  expect(FINDING_STEPS.every(({ from, to }) => from !== to)).toBe(true)
  expect(new Set(FINDING_STEPS.map(({ from, to }) => `${from}>${to}`)).size).toBe(FINDING_STEPS.length)
})

describe('looked at again', () => {
  test.each<[FindingState, ReviewOutcome, FindingState]>([
    ['open', 'still-there', 'open'],
    ['declined', 'still-there', 'declined'],
    ['booked', 'still-there', 'booked'],
    ['corrected', 'still-there', 'open'],
    ['corrected', 'corrected-by-us', 'checked'],
    ['open', 'corrected-by-others', 'checked'],
    ['declined', 'no-longer-applies', 'no-longer-applies'],
    ['checked', 'still-there', 'checked'],
    ['no-longer-applies', 'corrected-by-us', 'no-longer-applies'],
  ])('%s and %s is %s', (state, outcome, after) => {
    expect(stateAfterReview(state, outcome)).toBe(after)
  })

  test('only "still there" keeps a finding alive', () => {
    for (const outcome of Object.keys(REVIEW_OUTCOMES) as ReviewOutcome[]) {
      for (const state of STATES.filter((each) => !isClosed(each))) {
        expect(isClosed(stateAfterReview(state, outcome))).toBe(outcome !== 'still-there')
      }
    }
  })
})

test('a severity is lowered when a less grave one is chosen, never when it is raised', () => {
  for (const proposed of SEVERITIES) {
    for (const chosen of SEVERITIES) {
      expect(isLowered(proposed, chosen)).toBe(SEVERITIES.indexOf(chosen) > SEVERITIES.indexOf(proposed))
    }
    expect(isLowered(null, proposed)).toBe(false)
    expect(isLowered(proposed, null)).toBe(false)
  }
  expect(gravity('unsafe')).toBeLessThan(gravity('repair'))
  expect(
    needsLoweredReason({ proposedSeverity: 'unsafe', severity: 'watch', loweredReason: 'Seen dead' }),
  ).toBe(false)
})
