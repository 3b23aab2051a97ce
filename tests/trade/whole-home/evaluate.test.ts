import { describe, expect, test } from 'vitest'
import { type Day, day } from '../../../trade/dates.ts'
import type { Equipment } from '../../../trade/equipment.ts'
import { childrenOf, type Home, inUse } from '../../../trade/home.ts'
import { notApplicable, sound, undetermined } from '../../../trade/judging.ts'
import type { EquipmentRule, HomeRule, SpaceRule } from '../../../trade/rule.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { evaluateHome, judgeEquipment, judgeSpace } from '../../../trade/whole-home/evaluate.ts'
import { judgeReadings } from '../../../trade/whole-home/judge-readings.ts'
import { reevaluate } from '../../../trade/whole-home/reevaluate.ts'
import {
  joinEquipmentRule,
  joinHomeRule,
  joinReadingRule,
  joinSpaceRule,
  ruleSet,
} from '../../../trade/whole-home/rule-set.ts'
import { allVerdicts, undeterminedOf, verdictsAbout } from '../../../trade/whole-home/verdicts.ts'
import { bigHome, BIG_HOME_JURISDICTION, BIG_HOME_TODAY } from '../../build/big-home.ts'
import { piece } from '../../build/pieces.ts'

/** Rules that count how often they judge, so that the tests see what is computed anew. */
const asked: string[] = []
const say = (rule: string, inputs: Record<string, number | string | null>): Verdict => {
  asked.push(rule)
  return sound({ rule, inputs, references: [] }, { technician: 'Sound.', homeowner: 'Sound.' })
}

const ofCircuit: EquipmentRule<'circuit', { amps: number | null }> = {
  id: 'test.circuit',
  title: 'Circuit alone',
  kind: 'circuit',
  inputs: ({ details }) => ({ amps: details.ratingAmps ?? null }),
  judge: (inputs) =>
    inputs.amps === null
      ? undetermined({ rule: 'test.circuit', inputs, references: [] }, ['Breaker or fuse rating'])
      : say('test.circuit', inputs),
}
const ofPanel: EquipmentRule<'panel', { circuits: number }> = {
  id: 'test.panel',
  title: 'Panel with its circuits',
  kind: 'panel',
  watches: ['circuit'],
  inputs: ({ id }, home) => ({ circuits: childrenOf(home, id).length }),
  judge: (inputs) => say('test.panel', inputs),
}
const ofReceptacle: EquipmentRule<'receptacle', { alarms: number }> = {
  id: 'test.receptacle',
  title: 'Looks at the home without saying at what',
  kind: 'receptacle',
  inputs: (_receptacle, home) => ({ alarms: inUse(home, 'alarm').length }),
  judge: (inputs) => say('test.receptacle', inputs),
}
const ofKitchen: SpaceRule<{ name: string }> = {
  id: 'test.kitchen',
  title: 'Kitchens only',
  inputs: (space) => (space.kind === 'kitchen' ? { name: space.name } : null),
  judge: (inputs) => say('test.kitchen', inputs),
}
const ofHome: HomeRule<{ alarms: number }> = {
  id: 'test.home',
  title: 'Alarms together',
  watches: ['alarm'],
  inputs: (home) => ({ alarms: inUse(home, 'alarm').length }),
  judge: (inputs, context) => [
    say('test.home', { ...inputs, edition: context.editionWhenBuilt }),
    notApplicable({ rule: 'test.home', inputs, references: [] }, 'for the test'),
  ],
}
const RULES = ruleSet({
  equipment: [joinEquipmentRule(ofCircuit), joinEquipmentRule(ofPanel), joinEquipmentRule(ofReceptacle)],
  spaces: [joinSpaceRule(ofKitchen)],
  homes: [joinHomeRule(ofHome)],
})

const HOME = bigHome()
const whole = (home: Home) => evaluateHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, RULES)
const countOf = (rule: string) => asked.filter((each) => each === rule).length
const change = (home: Home, id: string, to: (each: Equipment) => Equipment): Home => ({
  ...home,
  equipment: home.equipment.map((each) => (each.id === id ? to(each) : each)),
})

test('a set of rules refuses two rules of one name', () => {
  const rules = [ofPanel, ofCircuit, ofReceptacle, ofCircuit].map((rule) => joinEquipmentRule(rule))
  expect(() => ruleSet({ equipment: rules })).toThrow('two rules are called test.circuit')
})

test('a rule about the home may be about a part that is newer or older than the home', () => {
  const newest: HomeRule<{ on: Day | null }> = {
    id: 'test.newest',
    title: 'Edition of the panel',
    watches: ['panel'],
    inputs: (home) => ({ on: inUse(home, 'panel')[0]?.installedOn ?? null }),
    installedOn: ({ on }) => on,
    judge: (inputs, context) => [say('test.newest', { ...inputs, edition: context.editionWhenBuilt })],
  }
  const rules = ruleSet({ homes: [joinHomeRule(newest)] })
  const editionOf = (on: Day | null) => {
    const home = change(HOME, 'panel-main', (each) => ({ ...each, installedOn: on }))
    const verdicts = evaluateHome(home, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, rules)
    return verdictsAbout(verdicts, 'home', null)[0]!.inputs.edition
  }
  expect(editionOf(day('2022-01-01'))).toBe('2020')
  expect(editionOf(day('1995-01-01'))).toBe('1993')
  expect(editionOf(null)).toBe('2002')
})

test('readings are judged by the rules that speak at their item, and by no other', () => {
  const reading = (id: string) =>
    joinReadingRule({ id, title: id, inputs: () => ({}), judge: () => say(id, {}) })
  const rules = ruleSet({
    readings: [reading('test.here'), reading('test.there'), reading('test.nowhere')],
    spokenAt: { 'test.here': ['surge.device'], 'test.there': ['surge.leads'] },
  })
  const judged = judgeReadings(
    { id: 'surge.device' },
    {},
    { space: null },
    HOME,
    BIG_HOME_JURISDICTION,
    BIG_HOME_TODAY,
    rules,
  )
  expect(judged.map(({ rule }) => rule)).toEqual(['test.here'])
})

describe('what a rule is taken to look at', () => {
  const kinds = (rule: object) => joinEquipmentRule({ ...ofCircuit, ...rule }).watches
  test('nothing else where its inputs do not take the home, anything where they do', () => {
    expect(kinds({})).toEqual([])
    expect(kinds({ inputs: (_circuit: unknown, _home: Home) => ({ amps: null }) })).toBeNull()
  })
  test('what it says, where it says so', () => {
    expect(kinds({ watches: ['panel'] })).toEqual(['panel'])
    expect(kinds({ watches: null })).toBeNull()
  })
})

test('a set of no rules judges nothing', () => {
  const verdicts = evaluateHome(HOME, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, ruleSet({}))
  expect(allVerdicts(verdicts)).toEqual([])
})

test('every piece in use, every space and the home are judged by the rules that are theirs', () => {
  const verdicts = whole(HOME)
  expect(verdictsAbout(verdicts, 'equipment', 'circuit-3')).toMatchObject([{ rule: 'test.circuit' }])
  expect(verdictsAbout(verdicts, 'equipment', 'panel-main')).toMatchObject([
    { rule: 'test.panel', inputs: { circuits: 40 } },
  ])
  expect(verdictsAbout(verdicts, 'equipment', 'service')).toEqual([])
  expect(verdictsAbout(verdicts, 'equipment', 'nobody')).toEqual([])
  expect(verdictsAbout(verdicts, 'space', 'space-2')).toMatchObject([{ inputs: { name: 'Kitchen' } }])
  expect(verdictsAbout(verdicts, 'space', 'space-3')).toEqual([])
  expect(verdictsAbout(verdicts, 'home', null).map(({ outcome }) => outcome)).toEqual([
    'sound',
    'not-applicable',
  ])
  expect(verdictsAbout(verdicts, 'home', null)[0]!.inputs).toMatchObject({ alarms: 10, edition: '2002' })
  expect(allVerdicts(verdicts)).toHaveLength(60 + 2 + 36 + 1 + 2)
})

test('what is out of use is not judged', () => {
  const verdicts = whole(change(HOME, 'circuit-3', (each) => ({ ...each, retiredOn: day('2026-01-01') })))
  expect(verdictsAbout(verdicts, 'equipment', 'circuit-3')).toEqual([])
  expect(verdictsAbout(verdicts, 'equipment', 'panel-main')[0]!.inputs).toEqual({ circuits: 39 })
})

test('what could not be judged is listed with what is missing', () => {
  const verdicts = whole(change(HOME, 'circuit-3', (each) => ({ ...each, details: {} }) as Equipment))
  expect(undeterminedOf(verdicts)).toMatchObject([
    { subjectKind: 'equipment', subjectId: 'circuit-3', verdict: { missing: ['Breaker or fuse rating'] } },
  ])
})

test('a piece is judged while it is typed, before it is in the home, under its own edition', () => {
  const draft = piece('circuit', 'new', { ratingAmps: 20 }, { installedOn: day('2025-01-01') })
  expect(judgeEquipment(HOME, draft, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, RULES)).toMatchObject([
    { rule: 'test.circuit', inputs: { amps: 20 } },
  ])
  const kitchen = HOME.spaces.find(({ kind }) => kind === 'kitchen')!
  expect(judgeSpace(HOME, kitchen, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, RULES)).toHaveLength(1)
  expect(judgeSpace(HOME, HOME.spaces[0]!, BIG_HOME_JURISDICTION, BIG_HOME_TODAY, RULES)).toEqual([])
})

describe('after a change', () => {
  const before = whole(HOME)
  const after = (home: Home, ...ids: string[]) => {
    asked.length = 0
    const verdicts = reevaluate(before, home, ids)
    const counts = Object.fromEntries(
      ['test.circuit', 'test.panel', 'test.receptacle', 'test.kitchen', 'test.home'].map((rule) => [
        rule.slice(5),
        countOf(rule),
      ]),
    )
    expect(allVerdicts(verdicts)).toEqual(allVerdicts(whole(home)))
    return counts
  }

  test('of one circuit: its own rules, those that watch circuits, and those that do not say', () => {
    const home = change(HOME, 'circuit-3', (each) => ({ ...each, details: { ratingAmps: 50 } }) as Equipment)
    expect(after(home, 'circuit-3')).toEqual({ circuit: 1, panel: 2, receptacle: 36, kitchen: 0, home: 0 })
  })

  test('of an alarm: the home rule that watches alarms', () => {
    const home = change(HOME, 'alarm-1', (each) => ({ ...each, retiredOn: day('2026-05-20') }))
    expect(after(home, 'alarm-1')).toEqual({ circuit: 0, panel: 0, receptacle: 36, kitchen: 0, home: 1 })
  })

  test('of a piece that is added, removed, or of another kind now', () => {
    const added = { ...HOME, equipment: [...HOME.equipment, piece('circuit', 'new', { ratingAmps: 15 })] }
    expect(after(added, 'new')).toMatchObject({ circuit: 1, panel: 2 })
    const removed = { ...HOME, equipment: HOME.equipment.filter(({ id }) => id !== 'circuit-3') }
    expect(after(removed, 'circuit-3')).toMatchObject({ circuit: 0, panel: 2 })
    const other = change(HOME, 'alarm-1', ({ id }) => piece('circuit', id, { ratingAmps: 15 }))
    expect(after(other, 'alarm-1')).toMatchObject({ circuit: 1, panel: 2, home: 1 })
  })

  test('of nothing: nothing but what keeps silent about what it watches', () => {
    expect(after({ ...HOME })).toEqual({ circuit: 0, panel: 0, receptacle: 36, kitchen: 0, home: 0 })
  })

  test('of the property or a space: everything', () => {
    const property = { ...HOME, property: { ...HOME.property, yearBuilt: 1990 } }
    expect(after(property)).toEqual({ circuit: 60, panel: 2, receptacle: 36, kitchen: 1, home: 1 })
    const spaces = { ...HOME, spaces: HOME.spaces.slice(1) }
    expect(after(spaces)).toEqual({ circuit: 60, panel: 2, receptacle: 36, kitchen: 1, home: 1 })
  })
})
