import { expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { deviceDates, wholeHome } from '../../../trade/whole-home/whole-home.ts'
import { bigHome, BIG_HOME_JURISDICTION, BIG_HOME_TODAY } from '../../build/big-home.ts'
import { piece } from '../../build/pieces.ts'
import { buildHome } from '../inspection/build.ts'

const smoke = (id: string, made: string | null, labelText?: string) =>
  piece(
    'alarm',
    id,
    { senses: 'smoke', ...(labelText && { labelText }) },
    { manufacturedOn: made === null ? null : day(made) },
  )

// NFPA 72-2013 §14.4.7.1: ten years from manufacture; 29 February by calendar arithmetic.
test.each([
  ['2015-06-30', '2025-06-30'],
  ['2016-02-29', '2026-02-28'],
])('a smoke alarm made %s is due %s in the answer for its home', (made, due) => {
  const home = buildHome({ equipment: [smoke('hall', made)] })
  const { dates, followUps } = wholeHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY)
  expect(dates.get('hall')?.replaceBy).toBe(due)
  expect(followUps.find(({ subjectId }) => subjectId === 'hall')).toMatchObject({
    kind: 'alarm-end-of-life',
    dueOn: due,
  })
})

// Month first in the United States; elsewhere 4 March and 3 April both fit, and the earlier counts until somebody looks.
test.each([
  [true, '2028-04-03'],
  [false, '2028-03-04'],
])('a label that says 04/03/2018, in the US %s: due %s', (isUs, due) => {
  const home = buildHome({ equipment: [smoke('hall', null, '04/03/2018')] })
  const { dates, followUps } = wholeHome(home, { ...BIG_HOME_JURISDICTION, isUs }, day('2020-01-01'))
  expect(dates.get('hall')?.replaceBy).toBe(due)
  expect(followUps.find(({ subjectId }) => subjectId === 'hall')?.dueOn).toBe(due)
  const told = { records: { isUs: !isUs } }
  const other = wholeHome(home, { ...BIG_HOME_JURISDICTION, isUs }, day('2020-01-01'), told)
  expect(other.followUps.find(({ subjectId }) => subjectId === 'hall')?.dueOn).not.toBe(due)
})

test('only devices in use that age have dates', () => {
  const equipment = [
    smoke('hall', '2020-01-01'),
    { ...smoke('old', '2001-01-01'), retiredOn: day('2020-01-01') },
    piece('surge-protector', 'surge', { indicator: 'good' }),
    piece('circuit', 'circuit', {}),
  ]
  expect([...deviceDates(buildHome({ equipment }), BIG_HOME_TODAY).keys()]).toEqual(['hall', 'surge'])
})

test('the large home: every verdict, what is undetermined with its reason, dates and follow-ups', () => {
  const whole = wholeHome(bigHome(), BIG_HOME_JURISDICTION, BIG_HOME_TODAY, {
    findings: [{ id: 'f1', severity: 'unsafe', state: 'open', foundOn: day('2026-05-19') }],
  })
  expect(whole.verdicts.length).toBeGreaterThan(900)
  expect(whole.undetermined.length).toBeGreaterThan(0)
  expect(whole.undetermined.every(({ verdict }) => verdict.missing.length > 0)).toBe(true)
  expect(whole.verdicts).toEqual(expect.arrayContaining([whole.undetermined[0]]))
  expect(whole.dates.size).toBe(11)
  expect(whole.followUps).toContainEqual(expect.objectContaining({ kind: 'open-finding', subjectId: 'f1' }))
  const days = whole.followUps.map(({ dueOn }) => dueOn)
  expect(days).toEqual(days.toSorted())
})
