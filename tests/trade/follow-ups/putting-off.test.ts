import { describe, expect, test } from 'vitest'
import { day, daysBetween } from '../../../trade/dates.ts'
import { FOLLOW_UP_KIND_IDS } from '../../../trade/follow-ups/kind.ts'
import { puttingOff } from '../../../trade/follow-ups/putting-off.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'

const today = day('2026-06-01')
const lengths = (
  kind: (typeof FOLLOW_UP_KIND_IDS)[number],
  severity: 'unsafe' | 'repair' | null,
  dueOn: string,
) => puttingOff({ kind, severity, dueOn: day(dueOn) }, today).choices.map(({ length }) => length)

describe('how long something may be put off', () => {
  // Common practice, no source: days for a hazard, a month past its date for what protects people.
  test.each([
    ['a hazard', 'open-finding', 'unsafe', '2026-05-30', ['three-days', 'one-week']],
    ['a repair', 'open-finding', 'repair', '2026-06-20', ['one-week', 'one-month']],
    ['an alarm past its date', 'alarm-end-of-life', null, '2026-05-20', ['one-week', 'one-month']],
    [
      'an alarm with two months to go',
      'alarm-end-of-life',
      null,
      '2026-08-10',
      ['one-week', 'one-month', 'three-months'],
    ],
    ['a dead surge protector', 'surge-failed', null, '2026-05-01', ['one-week', 'one-month']],
    [
      'the next inspection',
      're-inspection',
      null,
      '2026-05-20',
      ['one-week', 'one-month', 'three-months', 'six-months'],
    ],
  ] as const)('%s', (_what, kind, severity, dueOn, expected) => {
    expect(lengths(kind, severity, dueOn)).toEqual(expected)
  })

  test('there is always a choice, it lies ahead, and a hazard never rests longer than a week', () => {
    for (const kind of FOLLOW_UP_KIND_IDS) {
      for (const severity of [...SEVERITIES, null]) {
        const { choices } = puttingOff({ kind, severity, dueOn: day('2020-02-29') }, today)
        expect(choices.length).toBeGreaterThan(0)
        const longest = Math.max(...choices.map(({ until }) => daysBetween(today, until)))
        expect(Math.min(...choices.map(({ until }) => daysBetween(today, until)))).toBeGreaterThan(0)
        if (severity === 'unsafe') expect(longest).toBe(7)
      }
    }
  })

  test('a month on from the last of a month is the last of the next', () => {
    const { choices } = puttingOff({ kind: 're-inspection', severity: null, dueOn: today }, day('2028-01-31'))
    expect(choices.find(({ length }) => length === 'one-month')?.until).toBe('2028-02-29')
  })
})
