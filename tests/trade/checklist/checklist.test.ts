import { describe, expect, test } from 'vitest'
import { CHECKLIST, findAreaOf, findItem } from '../../../trade/checklist/checklist.ts'
import { isEquipmentSubject, isSpaceSubject } from '../../../trade/checklist/item.ts'
import { EQUIPMENT_FIELDS, type EquipmentKind } from '../../../trade/equipment.ts'
import { SPACE_KINDS, type SpaceKind } from '../../../trade/property.ts'

const items = CHECKLIST.areas.flatMap((area) => area.items)
const DATES = ['manufacturedOn', 'installedOn']

test('the inspection walks from the street inwards, in thirteen areas', () => {
  expect(CHECKLIST.areas.map((area) => area.id)).toEqual([
    'service',
    'equipment-disconnect',
    'panel-cover-on',
    'surge',
    'panel-cover-off',
    'grounding',
    'gas-bond',
    'ground-fault',
    'receptacles',
    'switches',
    'lighting',
    'alarms',
    'other-equipment',
  ])
})

test('every item has an id of its own that begins with its area', () => {
  expect(new Set(items.map((item) => item.id)).size).toBe(items.length)
  for (const area of CHECKLIST.areas) {
    for (const item of area.items) expect(item.id.startsWith(`${area.id}.`), item.id).toBe(true)
  }
})

test('an item and its area are found by id, an unknown id is not', () => {
  expect(findItem('alarms.device')?.title).toBe('Alarm')
  expect(findAreaOf('alarms.device')?.id).toBe('alarms')
  expect(findItem('alarms.sprinkler')).toBeNull()
  expect(findAreaOf('alarms.sprinkler')).toBeNull()
})

// Topics of NFPA 73, Electrical Inspections for Existing Dwellings, chapter 4: each is looked at somewhere.
test.each([
  ['services', 'service.meter-enclosure'],
  ['panelboards', 'panel-cover-off.condition'],
  ['overcurrent devices', 'panel-cover-off.circuit'],
  ['cables', 'service.entrance-cable'],
  ['luminaires', 'lighting.luminaire'],
  ['receptacles', 'receptacles.room'],
  ['switches', 'switches.room'],
])('NFPA 73 topic %s is an item', (_topic, id) => {
  expect(findItem(id)).not.toBeNull()
})

describe.each(items.map((item) => [item.id, item] as const))('%s', (_id, item) => {
  test('says in one or two calm sentences why it matters', () => {
    const sentences = item.plain.split(/[.!?](?:\s|$)/).filter((part) => part.trim())
    expect(sentences.length).toBeGreaterThan(0)
    expect(sentences.length).toBeLessThanOrEqual(2)
    expect(item.plain).not.toMatch(/!|deadly|kill|dangerous|act now|do not wait/i)
    expect(item.plain.length).toBeLessThanOrEqual(200)
  })

  test('asks only for things that can be written down', () => {
    const subject = item.subject
    if (isEquipmentSubject(subject)) {
      const fields = [...Object.keys(EQUIPMENT_FIELDS[subject.equipment]), ...DATES]
      const captures: readonly string[] = subject.captures ?? []
      expect(fields).toEqual(expect.arrayContaining([...captures]))
      expect(new Set(captures).size).toBe(captures.length)
      expect(captures.filter((name) => name in item.readings)).toEqual([])
    }
    if (isSpaceSubject(subject)) {
      expect(Object.keys(SPACE_KINDS)).toEqual(expect.arrayContaining([...subject.space]))
    }
  })

  test('needs only readings that it has, and lies behind a cover that is an item', () => {
    for (const name of item.required ?? []) expect(item.readings).toHaveProperty(name)
    if (item.behind) {
      const opening = findItem(item.behind)
      expect(opening?.required?.length).toBeGreaterThan(0)
      expect(item.caution).toBeDefined()
    }
  })
})

test('the covers of panels and disconnects come off only with a tester proven before and after', () => {
  const needVoltageTest = items.filter((item) => item.required?.includes('voltageTested'))
  expect(needVoltageTest.map((item) => item.id)).toEqual([
    'equipment-disconnect.opened',
    'panel-cover-off.opened',
  ])
})

test('whatever can be recorded of a piece of equipment is asked for at some item', () => {
  const asked = new Set<string>()
  for (const { subject } of items) {
    if (isEquipmentSubject(subject))
      subject.captures?.forEach((name) => asked.add(`${subject.equipment}.${name}`))
  }
  const never = (Object.keys(EQUIPMENT_FIELDS) as EquipmentKind[]).flatMap((kind) =>
    Object.keys(EQUIPMENT_FIELDS[kind])
      .map((name) => `${kind}.${name}`)
      .filter((name) => !asked.has(name)),
  )
  // Every item about `other` equipment says by itself what it is about.
  expect(never).toEqual(['other.what'])
})

test('every kind of place is looked at by some item', () => {
  const seen = new Set<SpaceKind>(
    items.flatMap(({ subject }) => (isSpaceSubject(subject) ? subject.space : [])),
  )
  expect(Object.keys(SPACE_KINDS).filter((kind) => !seen.has(kind as SpaceKind))).toEqual([])
})
