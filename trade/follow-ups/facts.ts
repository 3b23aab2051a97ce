import type { Day } from '../dates.ts'
import type { Equipment } from '../equipment.ts'
import type { EquipmentDates } from './equipment-dates.ts'
import type { Severity } from '../verdict.ts'

/** Life cycle of a finding, as the record keeps it. */
export type FindingState =
  'open' | 'on-estimate' | 'accepted' | 'declined' | 'booked' | 'corrected' | 'checked' | 'no-longer-applies'

export interface FollowUpFinding {
  id: string
  severity: Severity
  state: FindingState
  foundOn: Day
  /** As the technician wrote it. */
  text?: string | null
  /** For `watch`: when to look again. */
  watchUntil?: Day | null
  /** The owner signed that they do not want it made safe. */
  refusedOn?: Day | null
}

export interface FollowUpEstimate {
  id: string
  state: 'draft' | 'sent' | 'accepted' | 'declined' | 'expired' | 'withdrawn'
  sentOn: Day | null
  /** Day of their last question about it. */
  askedOn?: Day | null
  expiresOn: Day | null
}

export interface FollowUpVisit {
  id: string
  state: 'booked' | 'travelling' | 'on-site' | 'finished' | 'cancelled' | 'no-access'
  /** Day of the visit at the home. */
  on: Day
  /** Day on which it was booked, or last moved. */
  bookedOn: Day
  /** A later visit was booked for the same cause. */
  rebooked?: boolean
}

/** Something that may have hurt a surge protector: a strike nearby, a fault of the utility, work in the panel. */
export interface SurgeEvent {
  kind: 'storm' | 'utility' | 'panel-work'
  on: Day
}

/** What a home's follow-ups rest on beside its rooms and equipment. Left out = none. */
export interface FollowUpRecords {
  estimates?: readonly FollowUpEstimate[]
  visits?: readonly FollowUpVisit[]
  surgeEvents?: readonly SurgeEvent[]
  /** The last report asked for the next inspection by this day. */
  reportDueOn?: Day | null
  /** The household asked for tips on that day; null = never asked. */
  tipsSince?: Day | null
  /** Where dates on labels are written month first. */
  isUs?: boolean | null
  /** Dates kept with a device since it was last saved; left out = worked out anew. */
  keptDates?: (equipment: Equipment) => EquipmentDates
}
