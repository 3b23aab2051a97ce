import { expect, test } from 'vitest'
import type { PackVisit } from '../../server/field/pack-schema.ts'
import { sweepArea } from '../../web/field/sheet/all-sound.tsx'
import { inspectionOf } from '../../web/field/sheet/inspection-of.ts'
import { spokenAt } from '../../web/field/sheet/spoken.ts'

const PROPERTY = {
  timeZone: 'America/New_York',
  yearBuilt: 1978,
  yearAltered: null,
  levels: 1,
  areaSqFt: null,
  fuels: ['electric'],
  hasGasPiping: false,
  garage: 'none',
  garageOpensIntoHome: null,
  tenure: null,
  lastInspectedOn: null,
  soldOn: null,
}
const alarm = (details: object, manufacturedOn: string | null = null) => ({
  id: 'alarm',
  kind: 'alarm',
  label: 'Hall alarm',
  spaceId: null,
  parentId: null,
  details,
  manufacturedOn,
  installedOn: null,
  retiredOn: null,
})

function inspection(equipment: object[], answers: object[] = [], carried: object[] = []) {
  const sheet = {
    id: 'visit',
    property: PROPERTY,
    jurisdiction: null,
    spaces: [{ id: 'kitchen', kind: 'kitchen', name: 'Kitchen', level: 0 }],
    equipment,
    carried,
    inspection: { id: 'inspection', answers, findings: [], reviews: [], photos: [] },
  } as unknown as PackVisit
  return inspectionOf(sheet, new Date('2026-06-01T15:00:00Z'))
}
const lineAt = (of: ReturnType<typeof inspection>, key: string) => of.lines.find((each) => each.key === key)!

test('before anything is typed no rule asks for more; afterwards what misses something is counted', () => {
  const blank = inspection([alarm({})])
  expect(spokenAt(blank, lineAt(blank, 'alarms.device@alarm')).unknown).toEqual([])
  const typed = inspection([alarm({ senses: 'smoke' })])
  const { unknown } = spokenAt(typed, lineAt(typed, 'alarms.device@alarm'))
  expect(unknown.length).toBeGreaterThan(0)
  expect(unknown.every((each) => each.missing.length > 0)).toBe(true)
})

test('a reading is judged as soon as it is there, and asks for no more than it needs', () => {
  const key = 'receptacles.room@kitchen'
  const before = inspection([])
  expect(spokenAt(before, lineAt(before, key))).toEqual({ spoken: [], unknown: [] })
  const after = inspection(
    [],
    [
      {
        itemId: 'receptacles.room',
        subjectKind: 'space',
        subjectId: 'kitchen',
        result: 'ok',
        readings: { volts: 121 },
      },
    ],
  )
  // 115 to 125 V from hot to neutral is usual: FIPS 94 as quoted in handbooks.
  const { spoken } = spokenAt(after, lineAt(after, key))
  expect(spoken.map(({ outcome, rule }) => [outcome, rule])).toEqual([
    ['sound', 'voltage-drop.voltage-at-receptacle'],
  ])
})

test('an alarm past its years, and one with an earlier finding, are left to a person', () => {
  const whyOf = (of: ReturnType<typeof inspection>) =>
    sweepArea(of, of.lines).staying.find(({ line }) => line.key === 'alarms.device@alarm')?.why
  const details = { senses: 'smoke', power: 'battery' }
  // NFPA 72-2013 §14.4.7.1: ten years from manufacture.
  expect(whyOf(inspection([alarm(details, '2014-03-01')]))).toBe('rule')
  const earlier = {
    id: 'finding',
    itemId: 'alarms.device',
    equipmentId: 'alarm',
    spaceId: null,
    state: 'open',
  }
  expect(whyOf(inspection([alarm(details, '2024-03-01')], [], [earlier]))).toBe('earlier')
})
