import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import type { FollowUpEstimate, FollowUpFinding, FollowUpVisit } from '../../../trade/follow-ups/facts.ts'
import {
  FOLLOW_UP_KIND_IDS,
  type FollowUpKindId,
  STOP_CONDITIONS,
  type StopCondition,
} from '../../../trade/follow-ups/kind.ts'
import { estimateUnanswered } from '../../../trade/follow-ups/kinds/estimate-unanswered.ts'
import { makeSafeCheck } from '../../../trade/follow-ups/kinds/make-safe-check.ts'
import { noAccessRebooking } from '../../../trade/follow-ups/kinds/no-access-rebooking.ts'
import {
  openFinding,
  openFindingDue,
  openFindingStops,
  remedialDay,
} from '../../../trade/follow-ups/kinds/open-finding.ts'
import { type InspectedHome, reInspectionDue } from '../../../trade/follow-ups/kinds/re-inspection.ts'
import { selfTestTips } from '../../../trade/follow-ups/kinds/self-test-tips.ts'
import { surgeAfterEvent } from '../../../trade/follow-ups/kinds/surge-after-event.ts'
import { visitConfirmation } from '../../../trade/follow-ups/kinds/visit-confirmation.ts'
import { visitReminder } from '../../../trade/follow-ups/kinds/visit-reminder.ts'
import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'
import { cadenceOf, DEFAULT_POLICY, mannerOf, policyWith } from '../../../trade/follow-ups/policy.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'

const d = day

describe('next inspection', () => {
  const owner: InspectedHome = {
    yearBuilt: 2001,
    tenure: 'owner',
    lastInspectedOn: d('2016-04-10'),
    soldOn: null,
    reportDueOn: null,
  }
  const due = (more: Partial<InspectedHome>) => reInspectionDue({ ...owner, ...more }, DEFAULT_POLICY)

  test.each<[Partial<InspectedHome>, string, boolean, string]>([
    [{}, '2026-04-10', false, 'RI1: UK safety bodies, owner 10 years'],
    [{ tenure: 'rented' }, '2021-04-10', false, 'rented 5 years'],
    [
      { tenure: 'rented', lastInspectedOn: d('2024-05-01'), reportDueOn: d('2027-05-01') },
      '2027-05-01',
      false,
      'RI2: the report says 3 years',
    ],
    [{ reportDueOn: d('2030-01-01') }, '2026-04-10', false, 'a later report does not put it off'],
    [{ yearBuilt: 1960 }, '2021-04-10', false, 'a home of 40 years: 5'],
    [{ yearBuilt: 1976 }, '2021-04-10', false, '40 years old in the year of the inspection'],
    [{ yearBuilt: 1983 }, '2023-01-01', false, 'comes of age after the shorter interval'],
    [{ yearBuilt: 1981 }, '2021-04-10', false, 'comes of age before the shorter interval ends'],
    [{ yearBuilt: 1990 }, '2026-04-10', false, 'comes of age after the longer interval'],
    [{ yearBuilt: null }, '2026-04-10', false, 'year unknown'],
    [{ tenure: null }, '2026-04-10', true, 'taken as lived in by its owner'],
    [{ tenure: null, yearBuilt: 1960 }, '2021-04-10', false, 'its age alone decides'],
    [{ soldOn: d('2018-06-01') }, '2018-06-01', false, 'RI5: sold, two years after the last visit'],
    [{ soldOn: d('2016-04-10') }, '2026-04-10', false, 'sold and inspected on one day'],
    [{ soldOn: d('2010-06-01') }, '2026-04-10', false, 'sold before the inspection'],
    [{ lastInspectedOn: null, soldOn: d('2018-06-01') }, '2018-06-01', false, 'sold and never inspected'],
    [{ lastInspectedOn: d('2016-02-29') }, '2026-02-28', false, '29 February'],
  ])('%j: due %s, assumed %s (%s)', (more, dueOn, assumed) => {
    expect(due(more)).toEqual({ dueOn, assumed })
  })

  test('never inspected, never sold: nothing to repeat', () => {
    expect(due({ lastInspectedOn: null })).toBeNull()
  })
  test('the policy decides the years', () => {
    const policy = policyWith({ reinspection: { ownerYears: 6, olderHomeAge: 20, olderHomeYears: 2 } })
    expect(reInspectionDue({ ...owner, yearBuilt: null }, policy)?.dueOn).toBe('2022-04-10')
    expect(reInspectionDue({ ...owner, yearBuilt: 1990 }, policy)?.dueOn).toBe('2018-04-10')
  })
})

describe('open findings', () => {
  const finding: FollowUpFinding = { id: 'f', severity: 'repair', state: 'open', foundOn: d('2026-03-02') }
  const due = (more: Partial<FollowUpFinding>, policy = DEFAULT_POLICY) =>
    openFindingDue({ ...finding, ...more }, policy)?.dueOn ?? null

  test.each<[Partial<FollowUpFinding>, string | null]>([
    [{ severity: 'unsafe' }, '2026-03-02'],
    [{ severity: 'unsafe', refusedOn: d('2026-03-05') }, '2026-04-04'],
    [{ severity: 'repair' }, '2026-03-30'],
    [{ severity: 'investigate' }, '2026-03-30'],
    [{ severity: 'improve' }, '2027-03-02'],
    [{ severity: 'watch' }, null],
    [{ severity: 'watch', watchUntil: d('2028-01-31') }, '2028-01-31'],
    [{ severity: 'watch', watchUntil: d('2028-01-31'), state: 'declined' }, null],
    [{ state: 'on-estimate' }, '2026-03-30'],
    [{ state: 'accepted' }, null],
    [{ state: 'declined' }, null],
    [{ state: 'booked' }, null],
    [{ state: 'corrected' }, null],
    [{ state: 'checked' }, null],
    [{ state: 'no-longer-applies' }, null],
    [{ severity: 'unsafe', state: 'booked' }, '2026-03-02'],
    [{ severity: 'unsafe', state: 'corrected' }, '2026-03-02'],
    [{ severity: 'unsafe', state: 'declined' }, '2026-03-02'],
    [{ severity: 'unsafe', state: 'checked' }, null],
    [{ severity: 'unsafe', state: 'no-longer-applies' }, null],
  ])('%j: due %s', (more, dueOn) => {
    expect(due(more)).toBe(dueOn)
    if (dueOn) expect(openFindingDue({ ...finding, ...more }, DEFAULT_POLICY)?.assumed).toBe(false)
  })

  test('RI3, England 2020 Regulations: 28 days from and including 2026-03-02 end on 2026-03-29', () => {
    expect(remedialDay(d('2026-03-02'), 28, true)).toBe('2026-03-29')
    expect(remedialDay(d('2026-03-02'), 28, false)).toBe('2026-03-30')
    const policy = policyWith({ finding: { countFoundDay: true } })
    expect(due({}, policy)).toBe('2026-03-29')
    expect(due({ severity: 'investigate' }, policy)).toBe('2026-03-29')
  })

  test('each severity has its own days', () => {
    const policy = policyWith({ finding: { repairDays: 7, investigateDays: 14, improveMonths: 6 } })
    expect(due({}, policy)).toBe('2026-03-09')
    expect(due({ severity: 'investigate' }, policy)).toBe('2026-03-16')
    expect(due({ severity: 'improve' }, policy)).toBe('2026-09-02')
  })

  test('a danger is not switched off by a booking or an opt-out', () => {
    const when = (severity: FollowUpFinding['severity'], effect: 'end' | 'hold') =>
      openFindingStops(severity)
        .filter((stop) => stop.effect === effect)
        .map((stop) => stop.when)
    expect(when('unsafe', 'end')).toEqual(['corrected-and-checked', 'no-longer-applies', 'moved-away'])
    expect(when('unsafe', 'hold')).toEqual(['acknowledged', 'refused'])
    expect(when('repair', 'end')).toContain('opted-out')
    expect(when('repair', 'hold')).toEqual(['booked'])
  })

  test.each([
    ['unsafe', 'made safe today', 'ponerlo en seguro hoy'],
    ['repair', 'should be repaired', 'Debería repararse'],
    ['investigate', 'closer look', 'más de cerca'],
    ['improve', 'safe as it is', 'seguro tal como está'],
    ['watch', 'look at it again', 'volver a mirarlo'],
    [null, 'should be repaired', 'Debería repararse'],
  ] as const)('words for %s', (severity, en, es) => {
    const facts = { label: 'Loose neutral', dueOn: d('2026-03-02'), assumed: false, severity }
    expect(openFinding.reason(facts).en).toContain(`Loose neutral. `)
    expect(openFinding.reason(facts).en).toContain(en)
    expect(openFinding.reason(facts).es).toContain(es)
  })

  test.each<[Partial<FollowUpFinding>, string | null]>([
    [{ severity: 'unsafe' }, '2026-03-03'],
    [{ severity: 'repair' }, null],
    [{ severity: 'unsafe', state: 'checked' }, null],
    [{ severity: 'unsafe', state: 'no-longer-applies' }, null],
    [{ severity: 'unsafe', refusedOn: d('2026-03-02') }, null],
    [{ severity: 'unsafe', state: 'booked' }, '2026-03-03'],
  ])('make-safe check the day after: %j: %s', (more, dueOn) => {
    const found = makeSafeCheck.due({ ...finding, ...more }, DEFAULT_POLICY)
    expect(found).toEqual(dueOn && { dueOn, assumed: false })
  })
})

describe('estimates and visits', () => {
  const estimate: FollowUpEstimate = { id: 'e', state: 'sent', sentOn: d('2026-03-02'), expiresOn: null }
  test.each<[Partial<FollowUpEstimate>, string | null]>([
    [{}, '2026-03-09'],
    [{ expiresOn: d('2026-03-08') }, '2026-03-08'],
    [{ expiresOn: d('2026-03-10') }, '2026-03-09'],
    [{ expiresOn: d('2026-03-09') }, '2026-03-09'],
    [{ state: 'draft' }, null],
    [{ state: 'accepted' }, null],
    [{ state: 'declined' }, null],
    [{ state: 'expired' }, null],
    [{ state: 'withdrawn' }, null],
    [{ sentOn: null }, null],
    [{ askedOn: d('2026-03-08') }, '2026-03-15'],
    [{ askedOn: d('2026-03-08'), expiresOn: d('2026-03-10') }, '2026-03-10'],
    [{ askedOn: d('2026-03-01') }, '2026-03-09'],
  ])('estimate %j: due %s', (more, dueOn) => {
    const found = estimateUnanswered.due({ ...estimate, ...more }, DEFAULT_POLICY)
    expect(found).toEqual(dueOn && { dueOn, assumed: false })
  })

  const visit: FollowUpVisit = { id: 'v', state: 'booked', on: d('2026-03-20'), bookedOn: d('2026-03-02') }
  const dueOn = (kind: typeof visitReminder, more: Partial<FollowUpVisit>) =>
    kind.due({ ...visit, ...more }, DEFAULT_POLICY)?.dueOn ?? null

  test('a booking is confirmed the same day', () => {
    expect(dueOn(visitConfirmation, {})).toBe('2026-03-02')
    expect(dueOn(visitConfirmation, { state: 'cancelled' })).toBeNull()
    expect(visitConfirmation.due(visit, DEFAULT_POLICY)?.assumed).toBe(false)
  })
  test('and reminded of, unless it was booked in the last days', () => {
    expect(visitReminder.due(visit, DEFAULT_POLICY)).toEqual({ dueOn: '2026-03-20', assumed: false })
    expect(dueOn(visitReminder, { bookedOn: d('2026-03-17') })).toBe('2026-03-20')
    expect(dueOn(visitReminder, { bookedOn: d('2026-03-18') })).toBeNull()
    expect(dueOn(visitReminder, { state: 'finished' })).toBeNull()
  })
  test('nobody at home: the next day, until a new visit is booked', () => {
    expect(noAccessRebooking.due({ ...visit, state: 'no-access' }, DEFAULT_POLICY)).toEqual({
      dueOn: '2026-03-21',
      assumed: false,
    })
    expect(dueOn(noAccessRebooking, { state: 'no-access', rebooked: true })).toBeNull()
    expect(dueOn(noAccessRebooking, {})).toBeNull()
  })
})

describe('surge protector after an event', () => {
  const event = { kind: 'storm', on: d('2026-01-05') } as const
  const neverSeen = { lastCheckedOn: null, installedOn: null }
  test.each<[string | null, string | null, string]>([
    [null, '2026-01-12', 'SP3: 7 days after'],
    ['2026-01-04', '2026-01-12', 'checked before'],
    ['2026-01-05', '2026-01-12', 'checked on the day, perhaps before the storm'],
    ['2026-01-06', null, 'checked since'],
  ])('last checked %s: due %s (%s)', (checked, dueOn) => {
    const facts = { ...neverSeen, event, lastCheckedOn: checked ? d(checked) : null }
    expect(surgeAfterEvent.due(facts, DEFAULT_POLICY)).toEqual(dueOn && { dueOn, assumed: false })
  })
  test.each<[string, string | null, string]>([
    ['2026-01-05', '2026-01-12', 'put in on the day, perhaps before the storm'],
    ['2026-01-06', null, 'put in since: it was not there'],
  ])('installed %s: due %s (%s)', (installed, dueOn) => {
    const facts = { ...neverSeen, event, installedOn: d(installed) }
    expect(surgeAfterEvent.due(facts, DEFAULT_POLICY)).toEqual(dueOn && { dueOn, assumed: false })
  })
  test('no event', () => {
    expect(surgeAfterEvent.due({ ...neverSeen, event: null }, DEFAULT_POLICY)).toBeNull()
  })
})

describe('tips', () => {
  const due = (since: string | null, today: string) =>
    selfTestTips.due({ since: since ? d(since) : null, today: d(today) }, DEFAULT_POLICY)
  test.each([
    // The first of March, June, September and December, whenever they asked.
    ['2025-11-30', '2025-12-01', '2025-12-01'],
    ['2025-11-30', '2026-02-28', '2025-12-01'],
    ['2025-11-30', '2026-03-01', '2026-03-01'],
    ['2026-01-15', '2026-02-28', null],
    ['2026-03-01', '2026-05-31', null],
    ['2026-03-01', '2026-06-01', '2026-06-01'],
    ['2026-06-02', '2026-10-30', '2026-09-01'],
    [null, '2026-05-30', null],
  ])('asked %s, on %s: %s', (since, today, dueOn) => {
    expect(due(since, today)).toEqual(dueOn && { dueOn, assumed: false })
  })
  test.each([
    [1, '2026-06-01'],
    [6, '2026-03-01'],
    [12, '2026-03-01'],
    [24, '2026-03-01'],
  ])('every %i months: %s', (tipsMonths, dueOn) => {
    const facts = { since: d('2020-01-01'), today: d('2026-06-20') }
    expect(selfTestTips.due(facts, policyWith({ tipsMonths }))).toEqual({ dueOn, assumed: false })
  })
})

describe('every kind', () => {
  const kinds = FOLLOW_UP_KIND_IDS.map((id) => FOLLOW_UP_KINDS[id])

  test('is filed under its own id', () => {
    expect(kinds.map(({ id }) => id)).toEqual([...FOLLOW_UP_KIND_IDS])
    expect(Object.keys(FOLLOW_UP_KINDS).sort()).toEqual([...FOLLOW_UP_KIND_IDS].sort())
  })

  test.each(kinds.map((kind) => [kind.id, kind] as const))(
    '%s speaks both languages and names its subject',
    (_, kind) => {
      for (const severity of [...SEVERITIES, null]) {
        const facts = { label: 'THE-LABEL', dueOn: d('2026-03-09'), assumed: false, severity }
        const { en, es } = kind.reason(facts)
        expect(en).not.toBe(es)
        expect(en).toMatch(/\.$/)
        expect(es).toMatch(/\.$/)
        const named =
          kind.subjectKind === 'equipment' ||
          kind.subjectKind === 'finding' ||
          kind.subjectKind === 'estimate'
        expect([en.includes('THE-LABEL'), es.includes('THE-LABEL')]).toEqual([named, named])
        expect(en.includes('March 9, 2026')).toBe(es.includes('9 de marzo de 2026'))
      }
      expect(kind.office.length).toBeGreaterThan(4)
      expect(kind.concerns.length).toBeGreaterThan(10)
    },
  )

  test('an end of life that was worked out says so', () => {
    const facts = { label: 'Hall', dueOn: d('2026-03-09'), assumed: true, severity: null }
    expect(FOLLOW_UP_KINDS['alarm-end-of-life'].reason(facts)).toEqual({
      en:
        'The alarm “Hall” should be replaced by March 9, 2026: alarms lose their sensitivity with age. We worked this ' +
        'date out, because the device does not print one.',
      es:
        'La alarma «Hall» debería cambiarse a más tardar el 9 de marzo de 2026: con los años pierde sensibilidad. Hemos ' +
        'calculado esta fecha, porque el aparato no la lleva impresa.',
    })
  })

  test.each(kinds.map((kind) => [kind.id, kind] as const))('%s: notices in order, stops known', (_, kind) => {
    const manners = [kind, ...Object.values(kind.bySeverity ?? {})]
    for (const { cadence } of manners) {
      const days = cadence.steps.map((step) => step.days)
      expect(days).toEqual([...new Set(days)].sort((a, b) => a - b))
      expect(cadence.steps.every(({ by }) => by.length > 0)).toBe(true)
    }
    for (const { when } of kind.stops) expect(STOP_CONDITIONS[when as StopCondition]).toBeTruthy()
    expect(kind.stops.some(({ effect }) => effect === 'end')).toBe(true)
  })

  test('what offers paid work can be switched off and is held while a visit is booked; the rest cannot', () => {
    for (const kind of kinds) {
      const has = (when: StopCondition) => kind.stops.some((stop) => stop.when === when)
      if (kind.category === 'commercial') expect([kind.id, has('opted-out')]).toEqual([kind.id, true])
      else
        expect([kind.id, has('opted-out'), ['safety', 'booking'].includes(kind.preference)]).toEqual([
          kind.id,
          false,
          true,
        ])
    }
  })

  test.each<[FollowUpKindId, string]>([
    [
      'alarm-end-of-life',
      'commercial reminder soon: -90 mail, -30 mail, -7 mail, 0 mail, 14 mail, 45 mail, 60 call',
    ],
    ['alarm-battery', 'commercial tips routine: 0 mail'],
    ['alarm-undated', 'commercial reminder soon: 0 mail, 14 mail, 45 mail'],
    ['surge-check', 'commercial reminder routine: -30 mail, -7 mail, 14 mail'],
    ['surge-after-event', 'commercial reminder soon: -6 mail, 7 mail'],
    ['surge-failed', 'commercial reminder soon: 0 mail, 14 mail, 30 call'],
    ['self-test-tips', 'commercial tips routine: 0 mail'],
    [
      're-inspection',
      'commercial reminder routine: -60 mail, -30 mail, -7 mail, 30 mail, 90 mail, every 12 months mail',
    ],
    ['open-finding', 'commercial reminder soon: -14 mail, -3 mail, 1 call, 14 letter'],
    ['estimate-unanswered', 'commercial reminder routine: 0 mail, 7 mail, 14 call'],
    ['make-safe-check', 'relationship safety at-once: 0 call, every 1 days call'],
    ['visit-confirmation', 'relationship booking at-once: 0 mail'],
    ['visit-reminder', 'relationship booking soon: -2 mail'],
    ['no-access-rebooking', 'relationship booking soon: 0 mail, 3 call, 10 mail'],
  ])('%s is %s (own choice)', (id, expected) => {
    expect(told(mannerOf(id))).toBe(expected)
  })

  test.each([
    ['unsafe', 'relationship safety at-once: 0 mail+call, every 1 days call'],
    ['repair', 'commercial reminder soon: -14 mail, -3 mail, 1 call, 14 letter'],
    ['investigate', 'commercial reminder soon: -14 mail, -3 mail, 1 call, 14 letter'],
    ['improve', 'commercial reminder routine: 0 mail'],
    ['watch', 'commercial reminder routine: 0 mail'],
  ] as const)('an open finding of severity %s is %s (own choice)', (severity, expected) => {
    expect(told(mannerOf('open-finding', severity))).toBe(expected)
    expect(cadenceOf(DEFAULT_POLICY, 'open-finding', severity)).toEqual(
      mannerOf('open-finding', severity).cadence,
    )
  })

  test.each<[FollowUpKindId, string, string, boolean]>([
    ['alarm-end-of-life', 'equipment', 'contact', false],
    ['alarm-battery', 'equipment', 'contact', false],
    ['alarm-undated', 'equipment', 'contact', true],
    ['surge-check', 'equipment', 'contact', false],
    ['surge-after-event', 'equipment', 'contact', false],
    ['surge-failed', 'equipment', 'contact', true],
    ['self-test-tips', 'home', 'contact', false],
    ['re-inspection', 'home', 'contact', false],
    ['open-finding', 'finding', 'contact', false],
    ['estimate-unanswered', 'estimate', 'payer', false],
    ['make-safe-check', 'finding', 'contact', false],
    ['visit-confirmation', 'visit', 'payer', false],
    ['visit-reminder', 'visit', 'payer', false],
    ['no-access-rebooking', 'visit', 'payer', false],
  ])('%s is about the %s and tells the %s', (id, subjectKind, tells, keepsFirstDueOn) => {
    expect(FOLLOW_UP_KINDS[id]).toMatchObject({ subjectKind, tells, keepsFirstDueOn })
  })
})

function told({ category, preference, urgency, cadence }: ReturnType<typeof mannerOf>): string {
  const steps = cadence.steps.map(({ days, by }) => `${days} ${by.join('+')}`)
  const { then } = cadence
  const more = then ? [`every ${then.every} ${then.unit} ${then.by.join('+')}`] : []
  return `${category} ${preference} ${urgency}: ${[...steps, ...more].join(', ')}`
}
