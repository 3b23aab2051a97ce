import type { FollowUpKind, FollowUpKindId } from './kind.ts'
import { alarmBattery } from './kinds/alarm-battery.ts'
import { alarmEndOfLife } from './kinds/alarm-end-of-life.ts'
import { alarmUndated } from './kinds/alarm-undated.ts'
import { estimateUnanswered } from './kinds/estimate-unanswered.ts'
import { makeSafeCheck } from './kinds/make-safe-check.ts'
import { noAccessRebooking } from './kinds/no-access-rebooking.ts'
import { openFinding } from './kinds/open-finding.ts'
import { reInspection } from './kinds/re-inspection.ts'
import { selfTestTips } from './kinds/self-test-tips.ts'
import { surgeAfterEvent } from './kinds/surge-after-event.ts'
import { surgeCheck } from './kinds/surge-check.ts'
import { surgeFailed } from './kinds/surge-failed.ts'
import { visitConfirmation } from './kinds/visit-confirmation.ts'
import { visitReminder } from './kinds/visit-reminder.ts'

/** Every kind of follow-up by its id. A new kind is one file in `kinds/` and one line here. */
export const FOLLOW_UP_KINDS: Readonly<Record<FollowUpKindId, FollowUpKind>> = {
  'alarm-end-of-life': alarmEndOfLife,
  'alarm-battery': alarmBattery,
  'alarm-undated': alarmUndated,
  'surge-check': surgeCheck,
  'surge-after-event': surgeAfterEvent,
  'surge-failed': surgeFailed,
  'self-test-tips': selfTestTips,
  're-inspection': reInspection,
  'open-finding': openFinding,
  'estimate-unanswered': estimateUnanswered,
  'make-safe-check': makeSafeCheck,
  'visit-confirmation': visitConfirmation,
  'visit-reminder': visitReminder,
  'no-access-rebooking': noAccessRebooking,
}

/** Whether it offers nothing more while a visit to the home is booked. */
export const restsWhileBooked = (kind: FollowUpKindId): boolean =>
  FOLLOW_UP_KINDS[kind].stops.some(({ when, effect }) => when === 'booked' && effect === 'hold')
