import type { Day } from '../../trade/dates.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import type { Topic } from '../../trade/follow-ups/topics.ts'
import type { Severity } from '../../trade/verdict.ts'
import type { MessageCategory, MessageKind } from '../messages/categories.ts'
import type { Receiver } from '../messages/store.ts'

export type FollowUpState = 'planned' | 'told' | 'asked' | 'booked' | 'done' | 'dismissed'

/** An open follow-up, as far as it matters for a notice. */
export interface OpenFollowUp {
  id: string
  kind: FollowUpKindId
  subjectKind: string
  subjectId: string
  propertyId: string
  line1: string
  zone: string
  dueOn: Day
  severity: Severity | null
  state: FollowUpState
  lastStep: string | null
  nextNoticeOn: Day | null
  snoozedUntil: Day | null
  /** The customer was told already on the day when nobody let us in. */
  toldOfNoAccess: boolean
}

/** One person and everything open that they are written to about. */
export interface Household {
  receiver: Receiver & { id: string; wants: Readonly<Partial<Record<MessageCategory | Topic, boolean>>> }
  followUps: readonly OpenFollowUp[]
  /** When mail that offers work went out, or will, in the last weeks. */
  commercialAt: readonly Date[]
}

export interface Notice {
  followUpId: string
  step: string
}
export interface NewNotice {
  kind: MessageKind
  category: MessageCategory
  /** Null when it tells of several homes. */
  propertyId: string | null
  visitId: string | null
  dedupeKey: string
  reason: string
  sendAfter: Date
  /** Why it is held back, to be shown to the office; null = it goes out. */
  refusal: string | null
  notices: readonly Notice[]
}
export interface Change {
  id: string
  lastStep: string | null
  nextNoticeOn: Day | null
  state: FollowUpState
  closedReason: string | null
}
export interface Decision {
  messages: NewNotice[]
  changes: Change[]
}
