import { expect, test } from 'vitest'
import { policyChanges } from '../../server/follow-up-policy/schema.ts'
import { DEFAULT_POLICY, policyWith } from '../../trade/follow-ups/policy.ts'
import { changesOf, formOf } from '../../web/office/settings/policy-fields.ts'

const form = formOf(DEFAULT_POLICY)
const changed = (change: Record<string, string>) => changesOf({ ...form, ...change }, DEFAULT_POLICY, {})

test('the form shows every figure and every notice that the API takes', () => {
  const { cadences: _, ...figures } = DEFAULT_POLICY
  const paths = Object.entries(figures).flatMap(([part, value]) =>
    typeof value === 'object' ? Object.keys(value).map((name) => `${part}.${name}`) : [part],
  )
  expect(paths.filter((path) => form[path] === undefined)).toEqual([])
  const notices = Object.keys(form).filter((path) => path.startsWith('cadences.'))
  expect(notices).toContain('cadences.open-finding/unsafe')
  expect(notices).toHaveLength(17)
})

test('unchanged it changes nothing, also where the company has chosen notices that repeat', () => {
  expect(changed({})).toEqual({ changes: {}, faults: {} })
  const then = { every: 6, unit: 'months', by: ['mail'] } as const
  const own = { cadences: { 'open-finding/watch': { steps: [{ days: 0, by: ['mail'] }], then } } } as const
  const policy = policyWith(own)
  expect(formOf(policy)['cadences.open-finding/watch']).toBe('0 mail, then every 6 months mail')
  expect(changesOf(formOf(policy), policy, own)).toEqual({ changes: own, faults: {} })
})

test.each([
  [{ batteryMonths: '6' }, { batteryMonths: 6 }],
  [{ 'surge.checkMonths': '18', 'surge.lifeYears': '8' }, { surge: { checkMonths: 18, lifeYears: 8 } }],
  [{ 'finding.countFoundDay': 'true' }, { finding: { countFoundDay: true } }],
  [
    { 'cadences.open-finding/unsafe': '0 mail+call, then every 2 days call' },
    {
      cadences: {
        'open-finding/unsafe': {
          steps: [{ days: 0, by: ['mail', 'call'] }],
          then: { every: 2, unit: 'days', by: ['call'] },
        },
      },
    },
  ],
  [
    { 'cadences.re-inspection': '-60 mail' },
    { cadences: { 're-inspection': { steps: [{ days: -60, by: ['mail'] }] } } },
  ],
])('%j is what the API takes: %j', (change, changes) => {
  expect(changed(change)).toEqual({ changes, faults: {} })
  expect(policyChanges.safeParse(changes).success).toBe(true)
})

test('what is wrong is said beside its field', () => {
  const { faults } = changed({ batteryMonths: 'six', 'cadences.open-finding/watch': '0 mail, then yearly' })
  expect(Object.keys(faults)).toEqual(['batteryMonths', 'cadences.open-finding/watch'])
})
