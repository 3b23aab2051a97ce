import { expect, test } from 'vitest'
import { day } from '../../trade/dates.ts'
import { policyWith } from '../../trade/follow-ups/policy.ts'
import { runSimulation } from '../../scripts/simulate/run.ts'

// Four years with a leap day and eight clock changes in each zone that has them. `npm run simulate` does twenty.
const YEARS = { years: 4, homes: 160, seed: 7, from: day('2026-07-01') }

test('every due date is met, once, in its hours and within the cap; the same seed gives the same', async () => {
  const first = await runSimulation(YEARS)
  expect(first.examples).toEqual([])
  expect(first.householdMaximumIn7Days).toBe(1)
  // Nought broken proves something only where a lot happened.
  expect(first.dueDates).toBeGreaterThan(1000)
  expect(first.met).toBeGreaterThan(500)
  expect(first.onClockChangeDays).toBeGreaterThan(5)
  expect(first.onLeapDays).toBeGreaterThan(0)
  const heldBack = first.months.reduce((sum, [, month]) => sum + month.heldBack, 0)
  expect(heldBack).toBeGreaterThan(10)
  const again = await runSimulation(YEARS)
  expect(again.months).toEqual(first.months)
}, 60_000)

test('what is promised is promised of any policy', async () => {
  const policy = policyWith({
    cap: { messages: 2, days: 30 },
    sendingHours: { from: '10:00', to: '16:30' },
    groupWithinDays: 0,
    reinspection: { ownerYears: 1, rentedYears: 1, olderHomeYears: 1 },
    tipsMonths: 1,
  })
  const { examples, householdMaximumIn7Days } = await runSimulation({ ...YEARS, years: 2, homes: 60, policy })
  expect(examples).toEqual([])
  expect(householdMaximumIn7Days).toBe(2)
}, 60_000)
