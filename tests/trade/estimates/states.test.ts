import { expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import {
  ESTIMATE_STATES,
  ESTIMATE_STEPS,
  type EstimateState,
  type EstimateStep,
  hasRunOut,
  mayTakeStep,
  OFFERABLE_FINDINGS,
  usualExpiry,
} from '../../../trade/estimates/states.ts'
import { type FindingState, mayBecome } from '../../../trade/inspection/finding-states.ts'

const STATES = Object.keys(ESTIMATE_STATES) as EstimateState[]
const STEPS = Object.keys(ESTIMATE_STEPS) as EstimateStep[]

test.each<[EstimateState, EstimateStep[]]>([
  ['draft', ['change', 'send', 'record', 'withdraw']],
  ['sent', ['change', 'accept', 'decline', 'record', 'expire', 'withdraw']],
  ['accepted', []],
  ['declined', []],
  ['expired', []],
  ['withdrawn', []],
])('what can be done with one that is %s: %j', (state, steps) => {
  expect(STEPS.filter((step) => mayTakeStep(step, state))).toEqual(steps)
})

test('every state is reached by a step, but the one that it begins with', () => {
  const reached = STEPS.flatMap((step) => ESTIMATE_STEPS[step].to ?? [])
  expect(STATES.filter((state) => !(reached as EstimateState[]).includes(state))).toEqual(['draft'])
})

test('an offer is open for thirty days, the last one included', () => {
  const expiresOn = usualExpiry(day('2026-02-01'))
  expect(expiresOn).toBe('2026-03-03')
  expect(hasRunOut({ expiresOn }, day('2026-03-03'))).toBe(false)
  expect(hasRunOut({ expiresOn }, day('2026-03-04'))).toBe(true)
  expect(hasRunOut({ expiresOn: null }, day('2099-01-01'))).toBe(false)
})

test('what may be offered can go on an estimate, or is on one', () => {
  const may = (state: FindingState) => state === 'on-estimate' || mayBecome(state, 'on-estimate')
  expect(OFFERABLE_FINDINGS.every(may)).toBe(true)
  expect(may('accepted') || may('booked') || may('checked')).toBe(false)
})
