import type { Day } from '../../../trade/dates.ts'
import { datedCauses, type DueFollowUp } from '../../../trade/follow-ups/due-dates.ts'
import { surgeHasFailed } from '../../../trade/follow-ups/equipment-dates.ts'
import { type FollowUpKindId, STOP_CONDITIONS, type StopCondition } from '../../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS, restsWhileBooked } from '../../../trade/follow-ups/kinds.ts'
import { TURN_OF_SEASON } from '../../../trade/follow-ups/kinds/self-test-tips.ts'
import { cadenceOf, mannerOf, type Policy } from '../../../trade/follow-ups/policy.ts'
import { nextRepeat } from '../../../trade/follow-ups/repeats.ts'
import { opensOn } from '../../../trade/follow-ups/steps.ts'
import { isWanted } from '../../messages/categories.ts'
import { dayInZone } from '../../time.ts'
import type { FollowUpState } from '../household.ts'
import type { MadeUpHome, OpenInHome } from './company.ts'

// What plan-store.ts says in SQL about all homes at once, said about one home in plain code over the trade's own rules:
// tests/worker/plan-equals-trade.test.ts holds the SQL against those same rules, home by home.

export interface Ended {
  home: MadeUpHome
  followUp: OpenInHome
  state: 'done' | 'dismissed'
  why: string
}

/**
 * Brings what is open at a home in line with its records on a day: ends, opens, moves, lets rest.
 * @returns the next day on which something there begins to speak by itself; null = none
 */
export function planHome(
  home: MadeUpHome,
  policy: Policy,
  today: Day,
  onEnd: (ended: Ended) => void,
): Day | null {
  const all = home.archived ? [] : causesOf(home, policy, today)
  const due = all.filter((each) => each.opensOn <= today)
  const opened = new Set(home.open.map(({ kind, subjectId, dueOn }) => `${kind} ${subjectId} ${dueOn}`))
  const keys = new Set(
    all
      .filter((each) => due.includes(each) || opened.has(`${each.kind} ${each.subjectId} ${each.dueOn}`))
      .map(({ kind, subjectId }) => `${kind} ${subjectId}`),
  )
  for (const followUp of home.open.filter((each) => !keys.has(`${each.kind} ${each.subjectId}`))) {
    end(home, followUp, 'done', STOP_CONDITIONS[endingOf(home, followUp)], onEnd)
  }
  for (const each of due) open(home, each)
  letRest(home)
  return nextOpening(home, policy, today, all)
}

export function end(
  home: MadeUpHome,
  followUp: OpenInHome,
  state: 'done' | 'dismissed',
  why: string,
  onEnd: (ended: Ended) => void,
): void {
  home.open = home.open.filter((each) => each !== followUp)
  const { kind, subjectId, dueOn, lastStep } = followUp
  home.ended.set(`${kind} ${subjectId} ${dueOn}`, { why, lastStep })
  onEnd({ home, followUp, state, why })
}

type Cause = Omit<DueFollowUp, 'reason'> & { subjectId: string }

function causesOf(home: MadeUpHome, policy: Policy, today: Day): Cause[] {
  const tipsAt = home.contact?.tipsSince ?? null
  const kept = new Map(home.devices.map(({ equipment, dates }) => [equipment.id, dates]))
  const records = {
    estimates: home.estimates,
    visits: home.visits,
    tipsSince: tipsAt && dayInZone(tipsAt, home.zone),
    keptDates: ({ id }: { id: string }) => kept.get(id)!,
  }
  const whole = {
    property: home.property,
    spaces: [],
    equipment: home.devices.map(({ equipment }) => equipment),
  }
  const found = datedCauses(whole, home.findings, policy, today, records)
    // A confirmation is written when the visit is booked; a battery is spoken of only to those who asked for tips.
    .filter(({ kind }) => kind !== 'visit-confirmation' && (kind !== 'alarm-battery' || tipsAt !== null))
    .map((each) => ({ ...each, subjectId: each.subjectId ?? home.id }))
  return [...found, ...storms(home, policy)]
}

/** A check after a storm has no record but the follow-up itself. */
function storms(home: MadeUpHome, policy: Policy): Cause[] {
  return home.open
    .filter(({ kind }) => kind === 'surge-after-event')
    .flatMap((followUp) => {
      const { equipment } = home.devices.find((each) => each.equipment.id === followUp.subjectId)!
      if (equipment.kind !== 'surge-protector' || equipment.retiredOn || surgeHasFailed(equipment)) return []
      const { dueOn, kind, subjectId } = followUp
      const begins = opensOn(dueOn, cadenceOf(policy, kind))
      // Looked at on the day of the storm may have been before it.
      const stormOn = new Date(Date.parse(dueOn) - policy.surge.afterEventDays * 86_400_000)
        .toISOString()
        .slice(0, 10)
      if (equipment.lastCheckedOn && equipment.lastCheckedOn > stormOn) return []
      return [
        {
          ...{ kind, subjectId, dueOn, opensOn: begins, assumed: false, severity: null },
          subjectKind: 'equipment' as const,
        },
      ]
    })
}

function open(home: MadeUpHome, due: Cause): void {
  const before = home.ended.get(`${due.kind} ${due.subjectId} ${due.dueOn}`)
  // Whoever wants such mail again is told again, and nothing twice.
  if (before && !(before.why === STOP_CONDITIONS['opted-out'] && isWelcome(home, due))) return
  const there = home.open.find(({ kind, subjectId }) => kind === due.kind && subjectId === due.subjectId)
  if (!there) {
    home.open.push({ ...fresh(home, due), lastStep: before?.lastStep ?? null })
  } else if (there.dueOn !== due.dueOn && !FOLLOW_UP_KINDS[due.kind].keepsFirstDueOn) {
    moveTo(there, due)
  }
}

/** To another due date, where its notices begin anew. */
export function moveTo(
  there: OpenInHome,
  { dueOn, opensOn: nextNoticeOn }: Pick<Cause, 'dueOn' | 'opensOn'>,
) {
  const state: FollowUpState = there.state === 'told' ? 'planned' : there.state
  Object.assign(there, { dueOn, lastStep: null, nextNoticeOn, snoozedUntil: null, state })
}

function isWelcome({ contact }: MadeUpHome, { kind, severity }: Cause): boolean {
  const { preference } = mannerOf(kind, severity)
  return isWanted(preference, contact?.receiver.wants[preference] ?? null)
}

export function fresh(
  home: MadeUpHome,
  due: Pick<Cause, 'kind' | 'subjectId' | 'dueOn' | 'opensOn' | 'assumed' | 'severity'>,
): OpenInHome {
  return {
    id: `${due.kind} ${due.subjectId} ${due.dueOn}`,
    kind: due.kind,
    subjectKind: FOLLOW_UP_KINDS[due.kind].subjectKind,
    subjectId: due.subjectId,
    propertyId: home.id,
    line1: home.line1,
    zone: home.zone,
    dueOn: due.dueOn,
    severity: due.severity,
    state: 'planned',
    lastStep: null,
    nextNoticeOn: due.opensOn,
    snoozedUntil: null,
    toldOfNoAccess: due.kind === 'no-access-rebooking',
    assumed: due.assumed,
    requestId: null,
  }
}

/** While somebody is on their way to the home, what would offer work there rests. */
function letRest(home: MadeUpHome): void {
  const isComing = home.visits.some(
    ({ state }) => state === 'booked' || state === 'travelling' || state === 'on-site',
  )
  for (const each of home.open) {
    const mayRest = restsWhileBooked(each.kind) && each.severity !== 'unsafe'
    if (isComing && mayRest && each.state !== 'booked') each.state = 'booked'
    else if (!isComing && each.state === 'booked') {
      each.state = each.requestId ? 'asked' : each.lastStep === null ? 'planned' : 'told'
    }
  }
}

function nextOpening(home: MadeUpHome, policy: Policy, today: Day, all: readonly Cause[]): Day | null {
  const days = all.flatMap(({ opensOn: begins }) => (begins > today ? [begins] : []))
  const tipsAt = home.contact?.tipsSince
  if (tipsAt && !home.archived) days.push(nextRepeat(TURN_OF_SEASON, policy.tipsMonths, today))
  return days.length > 0 ? days.reduce((a, b) => (b < a ? b : a)) : null
}

const DEVICE_KINDS: readonly FollowUpKindId[] = [
  'alarm-end-of-life',
  'alarm-undated',
  'alarm-battery',
  'surge-check',
  'surge-failed',
  'surge-after-event',
]

function endingOf(home: MadeUpHome, { kind, subjectId, subjectKind }: OpenInHome): StopCondition {
  if (DEVICE_KINDS.includes(kind)) {
    const device = home.devices.find((each) => each.equipment.id === subjectId)
    if (device?.replacedById) return 'replaced'
    if (device?.equipment.retiredOn) return 'retired'
    if (kind === 'alarm-undated') return 'date-read'
    if (kind === 'alarm-battery') return home.contact?.tipsSince ? 'battery-changed' : 'opted-out'
    return 'checked'
  }
  if (subjectKind === 'finding') {
    const finding = home.findings.find(({ id }) => id === subjectId)
    if (finding?.state === 'declined' || finding?.refusedOn) return 'declined'
    if (finding?.state === 'accepted' || finding?.state === 'booked') return 'accepted'
    return finding?.state === 'no-longer-applies' ? 'no-longer-applies' : 'corrected-and-checked'
  }
  const by: Partial<Record<FollowUpKindId, StopCondition>> = {
    'estimate-unanswered': 'answered',
    'visit-reminder': 'held',
    'no-access-rebooking': 'rebooked',
    're-inspection': 'inspected',
    'self-test-tips': 'opted-out',
  }
  return by[kind] ?? 'no-longer-applies'
}
