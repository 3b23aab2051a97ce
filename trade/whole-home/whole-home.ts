import type { Day } from '../dates.ts'
import { type DueFollowUp, followUpsOf } from '../follow-ups/due-dates.ts'
import { type EquipmentDates, equipmentDates } from '../follow-ups/equipment-dates.ts'
import type { FollowUpFinding, FollowUpRecords } from '../follow-ups/facts.ts'
import { DEFAULT_POLICY, type Policy } from '../follow-ups/policy.ts'
import type { Home } from '../home.ts'
import type { UndeterminedVerdict } from '../verdict.ts'
import type { Jurisdiction } from './context.ts'
import { evaluateHome, type HomeVerdicts } from './evaluate.ts'
import { allVerdicts, type SubjectVerdict, undeterminedOf } from './verdicts.ts'

/** Everything that the rules have to say about a home on a day. */
export interface WholeHome {
  verdicts: readonly SubjectVerdict[]
  /** What could not be judged, and what would have to be known. */
  undetermined: readonly (SubjectVerdict & { verdict: UndeterminedVerdict })[]
  /** When each alarm and surge protector is due, by equipment id. */
  dates: ReadonlyMap<string, EquipmentDates>
  /** Every follow-up that the record calls for, earliest first. */
  followUps: readonly DueFollowUp[]
}

/** What follow-ups rest on beside the home itself. Left out = nothing is known of it. */
export interface Besides {
  findings?: readonly FollowUpFinding[]
  records?: FollowUpRecords
  policy?: Policy
}

/** Dates of the devices that have any, by equipment id. */
export function deviceDates(
  home: Home,
  today: Day,
  { policy = DEFAULT_POLICY, isUs = null }: { policy?: Policy; isUs?: boolean | null } = {},
): Map<string, EquipmentDates> {
  const dated = home.equipment.filter(
    ({ kind, retiredOn }) => !retiredOn && (kind === 'alarm' || kind === 'surge-protector'),
  )
  return new Map(dated.map((each) => [each.id, equipmentDates(each, today, { policy, isUs })]))
}

/** The whole answer from verdicts that are at hand already, as after `reevaluate`. */
export function wholeHomeFrom(
  verdicts: HomeVerdicts,
  { findings = [], records = {}, policy = DEFAULT_POLICY }: Besides = {},
): WholeHome {
  const { home, jurisdiction, today } = verdicts
  const { isUs } = jurisdiction
  return {
    verdicts: allVerdicts(verdicts),
    undetermined: undeterminedOf(verdicts),
    dates: deviceDates(home, today, { policy, isUs }),
    followUps: followUpsOf(home, findings, policy, today, { ...records, isUs: records.isUs ?? isUs }),
  }
}

/** The whole answer for a home: every verdict, what is undetermined and why, and the dates that follow. */
export function wholeHome(
  home: Home,
  jurisdiction: Jurisdiction,
  today: Day,
  besides: Besides = {},
): WholeHome {
  return wholeHomeFrom(evaluateHome(home, jurisdiction, today), besides)
}
