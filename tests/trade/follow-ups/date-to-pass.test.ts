import { expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { isPastItsDate } from '../../../trade/follow-ups/date-to-pass.ts'
import { FOLLOW_UP_KIND_IDS } from '../../../trade/follow-ups/kind.ts'

// Common practice, no source: an alarm is past the date printed on it; a hazard is past nothing, it is there.

const today = day('2026-06-01')

test('a home is past the date of a thing, never past the day on which we meant to ask', () => {
  const past = FOLLOW_UP_KIND_IDS.filter((kind) => isPastItsDate({ kind, dueOn: day('2026-05-31') }, today))
  expect(past).toEqual(['alarm-end-of-life', 'alarm-battery', 'surge-check', 're-inspection'])
})

test('on the day itself it is not past', () => {
  expect(isPastItsDate({ kind: 'alarm-end-of-life', dueOn: today }, today)).toBe(false)
})
