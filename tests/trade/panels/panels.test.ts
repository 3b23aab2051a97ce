import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import {
  judgeCover,
  judgeHeat,
  judgeListedBreakers,
  judgeOpenings,
  listedBreakers,
  panelCover,
  panelHeat,
  panelOpenings,
} from '../../../trade/panels/enclosure.ts'
import { handleHeight, judgeHandleHeight } from '../../../trade/panels/handle-height.ts'
import {
  judgePanelLocation,
  judgeSpaceUse,
  type LocationInputs,
  panelLocation,
  panelSpaceUse,
} from '../../../trade/panels/location.ts'
import {
  judgeNeutralGround,
  neutralGround,
  type NeutralGroundInputs,
} from '../../../trade/panels/neutral-ground.ts'
import { judgeSplitBus, splitBus } from '../../../trade/panels/split-bus.ts'
import {
  disconnectClearSpace,
  judgeWorkingSpace,
  leastWorkingWidth,
  workingSpace,
  type WorkingSpaceInputs,
} from '../../../trade/panels/working-space.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, figure, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.panel
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const now = under('2023', '1999')
const built = 'it was required when this was built'

describe('working space, NFPA 70 110.26(A)', () => {
  const good: WorkingSpaceInputs = {
    widthInches: 15,
    workingWidthInches: 30,
    workingDepthInches: 36,
    workingHeightInches: 78,
    doorOpensFully: true,
  }
  const judge = (inputs: Partial<WorkingSpaceInputs>, context = now) =>
    spoken(judgeWorkingSpace({ ...good, ...inputs }, context))
  test.each([
    // Panel 20 in wide, clear 28: 30 wanted. Panel 36 in wide, clear 34: 36 wanted.
    [{ widthInches: 20, workingWidthInches: 28 }, 'clear width 28 in, 30 in wanted'],
    [{ widthInches: 36, workingWidthInches: 34 }, 'clear width 34 in, 36 in wanted'],
    [{ workingDepthInches: 35 }, 'clear depth 35 in, 36 in wanted'],
    [{ workingHeightInches: 77 }, 'clear height 77 in, 78 in wanted'],
    [{ doorOpensFully: false }, 'the door does not open 90°'],
    [
      { workingDepthInches: 20, doorOpensFully: false },
      'clear depth 20 in, 36 in wanted; the door does not open 90°',
    ],
  ] as const)('%o: %s', (inputs, fault) => {
    expect(judge(inputs)).toMatchObject({
      rule: 'panels.working-space',
      outcome: 'finding',
      severity: 'repair',
      technician: `Working space: ${fault}; ${built}.`,
    })
  })
  test('enough', () => {
    const verdict = judge({})
    expect(verdict).toMatchObject({
      outcome: 'sound',
      technician: 'Working space 30 × 36 × 78 in; door opens 90°.',
    })
    expect(figure(verdict, FIELDS.workingWidthInches.label)).toBe(30)
    expect(figure(verdict, `${FIELDS.workingWidthInches.label}, at least`)).toBe(30)
    expect(figure(judge({ widthInches: 36, workingWidthInches: 40 }), 'Clear width, at least')).toBe(36)
    expect(articles(verdict)).toEqual(['110.26(A)', '110.26(A)'])
    expect([leastWorkingWidth(20), leastWorkingWidth(30), leastWorkingWidth(36)]).toEqual([30, 30, 36])
  })
  test('old homes and unknowns', () => {
    expect(judge({ workingDepthInches: 24 }, under('2023', '1975'))).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'unknown',
    })
    expect(missing(judge({ workingDepthInches: 24 }, under(null)))).toEqual(['Code edition in force'])
    expect(missing(spoken(judgeWorkingSpace({}, now)))).toEqual([
      FIELDS.widthInches.label,
      FIELDS.workingWidthInches.label,
      FIELDS.workingDepthInches.label,
      FIELDS.workingHeightInches.label,
      FIELDS.doorOpensFully.label,
    ])
    expect(judge({ widthInches: undefined, workingWidthInches: 28 })).toMatchObject({ outcome: 'finding' })
    expect(missing(judge({ widthInches: undefined, workingWidthInches: 34 }))).toEqual([
      FIELDS.widthInches.label,
    ])
  })
  test('more space is never judged worse', () => {
    const inches = fc.integer({ min: 0, max: 120 })
    fc.assert(
      fc.property(inches, inches, inches, fc.nat(60), (w, d, h, more) => {
        const of = (extra: number) =>
          judgeWorkingSpace(
            {
              ...good,
              workingWidthInches: w + extra,
              workingDepthInches: d + extra,
              workingHeightInches: h + extra,
            },
            now,
          ).outcome
        if (of(0) === 'sound') expect(of(more)).toBe('sound')
      }),
    )
  })
  test('inputs; the same space before an equipment disconnect', () => {
    expect(workingSpace.inputs(item('p', 'panel', { ...good, role: 'service' }), homeOf())).toEqual(good)
    expect(workingSpace.judge({}, now).rule).toBe(workingSpace.id)
    const of = (clearDepthInches?: number) =>
      disconnectClearSpace.judge(
        disconnectClearSpace.inputs(
          { clearDepthInches, clearWidthInches: 30, clearHeightInches: 78 },
          { space: null },
          homeOf(),
        ),
        now,
      )
    expect(of(36)).toMatchObject({ rule: 'disconnects.clear-space', outcome: 'sound' })
    expect(of(35)).toMatchObject({ outcome: 'finding' })
    expect(missing(of())).toEqual([FIELDS.workingDepthInches.label])
    expect(disconnectClearSpace.id).toBe('disconnects.clear-space')
  })
})

describe('location, IRC 2018 E3405 and NFPA 70 240.24', () => {
  const judge = (inputs: Partial<LocationInputs>, context = now) =>
    spoken(judgePanelLocation({ spaceKind: 'garage', overStairs: false, ...inputs }, context))
  test.each([
    [{ spaceKind: 'bathroom' }, 'Panel in a bathroom', ['240.24(E)', '240.24(E)'], 'repair'],
    [
      { spaceKind: 'closet' },
      'Panel in a closet (not allowed where clothes are kept)',
      ['240.24(D)', '240.24(D)'],
      'repair',
    ],
    [{ overStairs: true }, 'Panel over the steps of a stair', ['240.24(F)'], 'improve'],
    [{ overStairs: true, spaceKind: null }, 'Panel over the steps of a stair', ['240.24(F)'], 'improve'],
    [
      { spaceKind: 'bathroom', overStairs: undefined },
      'Panel in a bathroom',
      ['240.24(E)', '240.24(E)'],
      'repair',
    ],
    [
      { spaceKind: 'closet', overStairs: true },
      'Panel in a closet (not allowed where clothes are kept), over the steps of a stair',
      ['240.24(D)', '240.24(D)', '240.24(F)'],
      'repair',
    ],
  ] as const)('%o: %s', (inputs, words, cited, severity) => {
    const verdict = judge(inputs)
    expect(verdict).toMatchObject({ rule: 'panels.location', outcome: 'finding', severity })
    expect(verdict.technician).toMatch(`${words}; `)
    expect(articles(verdict)).toEqual(cited)
  })
  test('from memory: first editions', () => {
    expect(judge({ spaceKind: 'bathroom' }, under('2023', '1990'))).toMatchObject({
      requiredWhenBuilt: 'no',
      severity: 'improve',
    })
    expect(judge({ spaceKind: 'bathroom' }, under('2023', '1993'))).toMatchObject({ severity: 'repair' })
    expect(judge({ spaceKind: 'closet' }, under('2023', '1978'))).toMatchObject({
      requiredWhenBuilt: 'unknown',
    })
    expect(judge({ spaceKind: 'closet' }, under('2023', '1981'))).toMatchObject({ severity: 'repair' })
    expect(judge({ overStairs: true }, under('2023', '2008'))).toMatchObject({ severity: 'repair' })
    expect(judge({ overStairs: true }, under('2023', '2005'))).toMatchObject({ requiredWhenBuilt: 'no' })
  })
  test('allowed or unknown', () => {
    expect(judge({})).toMatchObject({ outcome: 'sound', technician: 'Panel location allowed (garage).' })
    expect(articles(judge({}))).toHaveLength(5)
    expect(missing(judge({ spaceKind: null, overStairs: undefined }))).toEqual([
      'Room or place',
      FIELDS.overStairs.label,
    ])
    const panel = item('p', 'panel', { overStairs: true }, { spaceId: 's' })
    const home = { ...homeOf(panel), spaces: [{ id: 's', kind: 'closet', name: 'C', level: 0 } as const] }
    expect(panelLocation.inputs(panel, home)).toEqual({ spaceKind: 'closet', overStairs: true })
    expect(panelLocation.inputs(panel, homeOf(panel)).spaceKind).toBeNull()
    expect(panelLocation.judge({ spaceKind: null }, now).rule).toBe(panelLocation.id)
  })
  test.each([
    [{ usedForStorage: true, lit: true }, 'repair', 'Working space used for storage: clear it.'],
    [{ usedForStorage: false, lit: false }, 'improve', 'Working space has no light on a switch.'],
    [{ lit: false }, 'improve', 'Working space has no light on a switch.'],
  ] as const)('space %o: %s', (readings, severity, technician) => {
    const verdict = spoken(judgeSpaceUse(readings))
    expect(verdict).toMatchObject({ rule: 'panels.space-use', severity, technician })
    expect(articles(verdict)).toEqual(['110.26(B)', '110.26(D)'])
  })
  test('space clear or unknown', () => {
    const readings = { usedForStorage: false, lit: true }
    expect(spoken(judgeSpaceUse(readings))).toMatchObject({
      outcome: 'sound',
      technician: 'Working space free of storage and lit.',
    })
    expect(missing(spoken(judgeSpaceUse({})))).toEqual([
      'Space in front used for storage',
      'Lit, by a switch',
    ])
    expect(panelSpaceUse.inputs(readings, { space: null }, homeOf())).toEqual(readings)
    expect(panelSpaceUse.judge({}, now).rule).toBe(panelSpaceUse.id)
  })
})

describe('neutral and ground, NFPA 70 250.24(A)(5) and 250.142(B)', () => {
  const judge = (inputs: Partial<NeutralGroundInputs>, context = now) =>
    spoken(judgeNeutralGround({ separateBuilding: false, ...inputs }, context))
  test('a sub-panel bonded to its can fails; the first disconnect needs the bond', () => {
    expect(judge({ role: 'sub-panel', neutralGround: 'joined' })).toMatchObject({
      rule: 'panels.neutral-ground',
      severity: 'repair',
      technician: `Sub-panel: neutral and ground joined, so neutral current runs on metal parts; ${built}.`,
    })
    expect(articles(judge({ role: 'sub-panel', neutralGround: 'joined' }))).toEqual([
      '250.24(A)(5)',
      '250.24(A)(5)',
    ])
    expect(judge({ role: 'service', neutralGround: 'joined' })).toMatchObject({
      outcome: 'sound',
      technician: 'Service panel: neutral and ground joined, as the first disconnect needs.',
      references: [{ code: 'NFPA 70', article: '250.24(B)', row: 'joined at the service disconnect' }],
    })
    expect(judge({ role: 'service', neutralGround: 'separate' })).toMatchObject({
      severity: 'unsafe',
      technician: 'Service panel: neutral and ground not joined; a ground fault will not trip a breaker.',
    })
    expect(judge({ role: 'sub-panel', neutralGround: 'separate' })).toMatchObject({
      outcome: 'sound',
      technician: 'Sub-panel: neutral and ground kept apart.',
    })
  })
  test('a separate building had them joined until 2008 (from memory)', () => {
    const there = { role: 'sub-panel', neutralGround: 'joined', separateBuilding: true } as const
    expect(judge(there)).toMatchObject({ severity: 'improve', requiredWhenBuilt: 'no' })
    expect(articles(judge(there))).toEqual(['250.32(B)'])
    expect(judge(there, under('2023', '2008'))).toMatchObject({ severity: 'repair' })
    expect(judge(there, under('2005', '1999'))).toMatchObject({ outcome: 'not-applicable' })
  })
  test('older editions and unknowns', () => {
    const joined = { role: 'sub-panel', neutralGround: 'joined' } as const
    expect(judge(joined, under('2023', '1971'))).toMatchObject({ severity: 'improve' })
    expect(articles(judge(joined, under('1996', '1978')))).toEqual(['250-23(a)', '250-23(a)'])
    expect(missing(judge({ ...joined, separateBuilding: null }))).toEqual(['Room or place'])
    expect(judge({ role: 'sub-panel', neutralGround: 'separate', separateBuilding: null })).toMatchObject({
      outcome: 'sound',
    })
    expect(missing(judge({}))).toEqual([FIELDS.role.label, FIELDS.neutralGround.label])
    expect(missing(judge({ role: 'service' }))).toEqual([FIELDS.neutralGround.label])
  })
  test.each([
    ['accessory-building', null, true],
    ['garage', 'detached', true],
    ['garage', 'attached', false],
    ['garage', null, false],
    ['basement-unfinished', 'detached', false],
  ] as const)('panel in the %s, garage %s: separate building %s', (kind, garage, separateBuilding) => {
    const panel = item('p', 'panel', { role: 'sub-panel', neutralGround: 'joined' }, { spaceId: 's' })
    const home = homeOf(panel)
    const there = {
      ...home,
      property: { ...home.property, garage },
      spaces: [{ id: 's', kind, name: 'S', level: 0 }],
    }
    expect(neutralGround.inputs(panel, there)).toEqual({
      role: 'sub-panel',
      neutralGround: 'joined',
      separateBuilding,
    })
    expect(neutralGround.inputs(panel, home).separateBuilding).toBeNull()
    expect(neutralGround.judge({ separateBuilding: null }, now).rule).toBe(neutralGround.id)
  })
})

describe('split bus, NFPA 70 230.71', () => {
  const judge = (mainThrows?: number, context = now, split: boolean | undefined = true) =>
    spoken(judgeSplitBus({ splitBus: split, mainThrows }, context))
  test('more than six throws is a finding in any edition', () => {
    expect(judge(7, under('2017', '1956'))).toMatchObject({
      rule: 'panels.split-bus',
      severity: 'repair',
      requiredWhenBuilt: 'yes',
      technician: 'Split bus: 7 throws to switch all off, 6 at most.',
    })
    expect(articles(judge(7, under('2017', '1956')))).toEqual(['230-71', '230.71'])
    expect(figure(judge(7), 'Throws allowed')).toBe(6)
    expect(figure(judge(7), FIELDS.mainThrows.label)).toBe(7)
  })
  test('six or fewer stay lawful; new work since 2020 has one', () => {
    expect(judge(6)).toMatchObject({
      severity: 'improve',
      requiredWhenBuilt: 'no',
      technician:
        'Split bus: 6 throws to switch all off, 6 at most; part of the bus stays live; would be required in new work under the 2023 edition, not when this was built.',
    })
    expect(articles(judge(6))).toEqual(['230.71(B)'])
    expect(judge(6, under('2017', '1999'))).toMatchObject({ outcome: 'not-applicable' })
    expect(judge(2, under('2023', '2020'))).toMatchObject({ severity: 'repair' })
  })
  test('no split bus, or unknown', () => {
    expect(judge(1, now, false)).toMatchObject({
      outcome: 'not-applicable',
      why: 'the panel has no split bus',
    })
    expect(missing(judge())).toEqual([FIELDS.mainThrows.label])
    expect(judge().figures).toEqual([])
    expect(missing(spoken(judgeSplitBus({}, now)))).toEqual([FIELDS.splitBus.label])
    expect(splitBus.inputs(item('p', 'panel', { splitBus: true, mainThrows: 4 }), homeOf())).toEqual({
      splitBus: true,
      mainThrows: 4,
    })
    expect(splitBus.judge({}, now).rule).toBe(splitBus.id)
  })
})

describe('handles, from memory: NFPA 70 240.24(A)', () => {
  const judge = (topHandleInches?: number, context = now) =>
    spoken(judgeHandleHeight({ topHandleInches }, context))
  test.each([
    [79, 'sound'],
    [79.5, 'finding'],
  ] as const)('%f in: %s', (inches, outcome) => {
    const verdict = judge(inches)
    expect(verdict).toMatchObject({
      rule: 'panels.handle-height',
      outcome,
      ...(outcome === 'finding' && { severity: 'repair' }),
    })
    expect(verdict.technician).toMatch(`Highest handle ${inches} in above the floor, 79 in at most`)
    expect(figure(verdict, 'Highest allowed')).toBe(79)
    expect(figure(verdict, FIELDS.topHandleInches.label)).toBe(inches)
    expect(articles(verdict)).toEqual(['240.24(A)', '240.24(A)'])
  })
  test('old homes and unknowns', () => {
    expect(judge(84, under('2023', '1984'))).toMatchObject({ severity: 'improve' })
    expect(missing(judge())).toEqual([FIELDS.topHandleInches.label])
    expect(handleHeight.inputs(item('p', 'panel', { topHandleInches: 80 }), homeOf())).toEqual({
      topHandleInches: 80,
    })
    expect(handleHeight.judge({}, now).rule).toBe(handleHeight.id)
  })
})

describe('openings, breakers, heat, cover', () => {
  test('openings, NFPA 70 408.7 and 110.12(A)', () => {
    const verdict = spoken(judgeOpenings({ openings: 2 }))
    expect(verdict).toMatchObject({
      rule: 'panels.openings',
      severity: 'repair',
      technician: 'Unused openings not closed: 2.',
    })
    expect(articles(verdict)).toEqual(['408.7', '110.12(A)'])
    expect(verdict.references.map((each) => each.row)).toEqual(['breaker positions', 'knockouts'])
    expect(figure(verdict, FIELDS.openings.label)).toBe(2)
    expect(spoken(judgeOpenings({ openings: 0 }))).toMatchObject({
      outcome: 'sound',
      technician: 'No unused openings.',
    })
    expect(missing(spoken(judgeOpenings({})))).toEqual([FIELDS.openings.label])
    expect(judgeOpenings({}).figures).toEqual([])
    expect(panelOpenings.inputs(item('p', 'panel', { openings: 1 }), homeOf())).toEqual({ openings: 1 })
    expect(panelOpenings.judge({}, now).rule).toBe(panelOpenings.id)
  })
  test('breakers not listed for the panel, NFPA 70 110.3(B)', () => {
    expect(spoken(judgeListedBreakers({ breakersListedForPanel: false }))).toMatchObject({
      rule: 'panels.listed-breakers',
      severity: 'repair',
      technician: 'Breakers not listed for this panel.',
      references: [{ code: 'NFPA 70', article: '110.3(B)' }],
    })
    expect(spoken(judgeListedBreakers({ breakersListedForPanel: true }))).toMatchObject({
      outcome: 'sound',
      technician: 'All breakers listed for this panel.',
    })
    expect(missing(spoken(judgeListedBreakers({})))).toEqual([FIELDS.breakersListedForPanel.label])
    const details = { breakersListedForPanel: true }
    expect(listedBreakers.inputs(item('p', 'panel', details), homeOf())).toEqual(details)
    expect(listedBreakers.judge({}, now).rule).toBe(listedBreakers.id)
  })
  test('signs of heat, common practice', () => {
    expect(spoken(judgeHeat({ signsOfHeat: true }))).toMatchObject({
      rule: 'panels.heat',
      severity: 'unsafe',
      technician: 'Signs of heat in the panel: find the joint before the panel is used further.',
      references: [{ code: 'common practice', row: 'signs of heat' }],
    })
    expect(spoken(judgeHeat({ signsOfHeat: false }))).toMatchObject({
      outcome: 'sound',
      technician: 'No signs of heat.',
    })
    expect(missing(spoken(judgeHeat({})))).toEqual([FIELDS.signsOfHeat.label])
    expect(panelHeat.inputs(item('p', 'panel', { signsOfHeat: true }), homeOf())).toEqual({
      signsOfHeat: true,
    })
    expect(panelHeat.judge({}, now).rule).toBe(panelHeat.id)
  })
  test.each([
    [{ coverSeated: false }, 'repair', 'Panel: cover not seated.'],
    [{ bluntScrews: false }, 'repair', 'Panel: screws missing or pointed.'],
    [{ doorWorks: false }, 'improve', 'Panel: door does not work.'],
    [{ doorWorks: false, coverSeated: false }, 'repair', 'Panel: cover not seated, door does not work.'],
  ] as const)('cover %o: %s', (readings, severity, technician) => {
    expect(spoken(judgeCover(readings))).toMatchObject({
      rule: 'panels.cover',
      severity,
      technician,
      references: [
        { code: 'NFPA 70', article: '110.27' },
        { code: 'common practice', row: 'cover and screws' },
      ],
    })
  })
  test('cover sound or unknown', () => {
    const readings = { doorWorks: true, coverSeated: true, bluntScrews: true }
    expect(spoken(judgeCover(readings))).toMatchObject({
      outcome: 'sound',
      technician: 'Door, cover and screws sound.',
    })
    expect(missing(spoken(judgeCover({})))).toEqual([
      'Cover seated',
      'All screws there and blunt',
      'Door works',
    ])
    expect(panelCover.inputs(readings, { space: null }, homeOf())).toEqual(readings)
    expect(panelCover.judge({}, now).rule).toBe(panelCover.id)
  })
})
