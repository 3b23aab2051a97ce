import type { Day } from '../dates.ts'
import type { Equipment } from '../equipment.ts'
import type { Home } from '../home.ts'
import type { Severity } from '../verdict.ts'
import { equipmentDates, surgeHasFailed } from './equipment-dates.ts'
import type { FollowUpFinding, FollowUpRecords, SurgeEvent } from './facts.ts'
import type { FollowUpKindId, SubjectKind, Words } from './kind.ts'
import { FOLLOW_UP_KINDS } from './kinds.ts'
import { cadenceOf, type Policy } from './policy.ts'
import { opensOn } from './steps.ts'

export interface DueFollowUp {
  kind: FollowUpKindId
  subjectKind: SubjectKind
  /** Id of the record it is about; null = the home itself. */
  subjectId: string | null
  dueOn: Day
  /** First day on which a notice may go out. */
  opensOn: Day
  assumed: boolean
  severity: Severity | null
  reason: Words
}

/** Follow-ups of one home that have begun to speak by `today`. */
export function dueFollowUps(
  home: Home,
  findings: readonly FollowUpFinding[],
  policy: Policy,
  today: Day,
  records: FollowUpRecords = {},
): DueFollowUp[] {
  return followUpsOf(home, findings, policy, today, records).filter((each) => each.opensOn <= today)
}

/** Every follow-up of one home, also those of the years to come, earliest first. */
export function followUpsOf(
  home: Home,
  findings: readonly FollowUpFinding[],
  policy: Policy,
  today: Day,
  records: FollowUpRecords = {},
): DueFollowUp[] {
  return datedCauses(home, findings, policy, today, records)
    .map(({ label, ...each }) => ({ ...each, reason: FOLLOW_UP_KINDS[each.kind].reason({ label, ...each }) }))
    .sort((a, b) => compare(orderOf(a), orderOf(b)))
}

/** The same in no order and before words are put to it, for whoever asks a thousand homes. */
export function datedCauses(
  home: Home,
  findings: readonly FollowUpFinding[],
  policy: Policy,
  today: Day,
  records: FollowUpRecords = {},
): (Omit<DueFollowUp, 'reason'> & { label: string })[] {
  const causes: Cause[] = [
    ...home.equipment.flatMap((each) => causesOfEquipment(each, policy, today, records)),
    ...findings.flatMap((finding) => causesOfFinding(finding)),
    ...(records.estimates ?? []).map(({ id, ...facts }) => {
      return { kind: 'estimate-unanswered', id, facts, label: 'the estimate' } as const
    }),
    ...(records.visits ?? []).flatMap((facts) => {
      // Whoever could not let us in and has sold the home since is not asked again.
      const soldSince = home.property.soldOn !== null && home.property.soldOn > facts.on
      const kinds: FollowUpKindId[] = ['visit-confirmation', 'visit-reminder']
      return (soldSince ? kinds : [...kinds, 'no-access-rebooking' as const]).map((kind) => {
        return { kind, id: facts.id, facts, label: 'the visit' }
      })
    }),
    {
      kind: 're-inspection',
      id: null,
      facts: { ...home.property, reportDueOn: records.reportDueOn ?? null },
      label: 'the home',
    },
    {
      kind: 'self-test-tips',
      id: null,
      facts: { since: records.tipsSince ?? null, today },
      label: 'the home',
    },
  ]
  return causes.flatMap((cause) => dated(cause, policy) ?? [])
}

/** By day, then by kind and subject, so that the order says nothing about how the home was recorded. */
function orderOf({ dueOn, kind, subjectId }: DueFollowUp): string {
  return `${dueOn} ${kind} ${subjectId ?? ''}`
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

interface Cause {
  kind: FollowUpKindId
  id: string | null
  facts: unknown
  label: string
  severity?: Severity
}

function dated({ kind, id, facts, label, severity = undefined }: Cause, policy: Policy) {
  const { due, subjectKind } = FOLLOW_UP_KINDS[kind]
  const found = due(facts, policy)
  if (!found) return null
  const { dueOn, assumed } = found
  return {
    kind,
    subjectKind,
    subjectId: id,
    dueOn,
    opensOn: opensOn(dueOn, cadenceOf(policy, kind, severity ?? null)),
    assumed,
    severity: severity ?? null,
    label,
  }
}

function causesOfFinding(facts: FollowUpFinding): Cause[] {
  const { id, severity } = facts
  const label = facts.text ?? 'a finding of the inspection'
  return (['open-finding', 'make-safe-check'] as const).map((kind) => ({ kind, id, facts, label, severity }))
}

function causesOfEquipment(
  equipment: Equipment,
  policy: Policy,
  today: Day,
  { surgeEvents = [], isUs = null, keptDates }: FollowUpRecords,
): Cause[] {
  const dates = keptDates?.(equipment) ?? equipmentDates(equipment, today, { policy, isUs })
  const { id, label } = equipment
  const check = { nextCheckOn: dates.nextCheckOn, assumed: dates.checkAssumed }
  if (equipment.retiredOn) return []
  if (equipment.kind === 'alarm') {
    return [
      { kind: alarmFollowUpKind(equipment, dates.assumed), id, facts: dates, label },
      { kind: 'alarm-battery', id, facts: check, label },
    ]
  }
  if (equipment.kind !== 'surge-protector') return []
  if (surgeHasFailed(equipment)) return [{ kind: 'surge-failed', id, facts: dates, label }]
  const event = latestEvent(surgeEvents, today)
  const { installedOn, lastCheckedOn = null } = equipment
  return [
    { kind: 'surge-check', id, facts: check, label },
    { kind: 'surge-after-event', id, facts: { event, lastCheckedOn, installedOn }, label },
  ]
}

/** Without a date of manufacture to stand on, an assumed end asks for the date first. */
export function alarmFollowUpKind(
  alarm: Pick<Equipment, 'manufacturedOn'>,
  assumed: boolean,
): 'alarm-end-of-life' | 'alarm-undated' {
  return assumed && !alarm.manufacturedOn ? 'alarm-undated' : 'alarm-end-of-life'
}

function latestEvent(events: readonly SurgeEvent[], today: Day): SurgeEvent | null {
  const past = events.filter((each) => each.on <= today)
  return past.reduce<SurgeEvent | null>(
    (latest, each) => (latest && latest.on > each.on ? latest : each),
    null,
  )
}
