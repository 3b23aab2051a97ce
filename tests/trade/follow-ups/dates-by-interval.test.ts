import { expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import { datesByInterval } from '../../../trade/follow-ups/equipment-dates.ts'
import { policyWith } from '../../../trade/follow-ups/policy.ts'

// Which dates follow when the company changes its intervals. The intervals themselves are common practice, no source.
const today = day('2026-06-01')
const policy = policyWith({ batteryMonths: 6, surge: { checkMonths: 18, lifeYears: 8 } })
const device = (kind: 'alarm' | 'surge-protector' | 'panel', details: object, more: object = {}) =>
  ({
    id: 'd',
    kind,
    label: '',
    spaceId: null,
    parentId: null,
    manufacturedOn: null,
    installedOn: null,
    retiredOn: null,
    lastCheckedOn: null,
    details,
    ...more,
  }) as unknown as Equipment
const moved = (equipment: Equipment) => datesByInterval(equipment, today, { policy, isUs: true })

test('of an alarm only the battery: its life is its maker’s (NFPA 72-2013 §14.4.7.1: ten years from manufacture)', () => {
  const alarm = device(
    'alarm',
    { senses: 'smoke', power: 'battery', batteryChangedOn: '2026-05-01' },
    { manufacturedOn: '2024-02-29' },
  )
  expect(moved(alarm)).toEqual({ nextCheckOn: '2026-11-01' })
})

test('of a protector that was looked at: its planned life and the next look', () => {
  const protector = device('surge-protector', {}, { installedOn: '2024-03-01', lastCheckedOn: '2026-03-01' })
  expect(moved(protector)).toEqual({ replaceBy: '2032-03-01', nextCheckOn: '2027-09-01' })
})

test.each([
  [
    'shows that it has failed',
    device('surge-protector', { indicator: 'dark' }, { installedOn: '2024-03-01' }),
  ],
  ['was never looked at', device('surge-protector', {}, { manufacturedOn: '2024-03-01' })],
  ['has no dated life', device('panel', {})],
])('none of a device that %s', (_, equipment) => {
  expect(moved(equipment)).toBeNull()
})
