import type { Day } from '../../trade/dates.ts'
import { refusedBy } from '../db.ts'
import { Problem } from '../errors.ts'
import { reopenIn } from '../follow-ups/actions.ts'
import { audit } from '../audit/store.ts'
import type { Db } from '../db.ts'
import { findAnswer, setTakenBack, type StoredAnswer } from './answer-store.ts'
import type { Thanks } from './answers.ts'
import { acted, type Visitor } from './entry.ts'
import { restoreParties, TAKE_BACK_DAYS } from './not-mine.ts'
import { restoreRest } from './store.ts'

const MS_PER_DAY = 86_400_000
/** A device with a new date is put right by the office, who can ask. */
const UNDONE_HERE: readonly string[] = ['snooze', 'decline', 'not-mine']

/** Whether a wrong click can be undone on the page. */
export function mayTakeBack({ act, at, takenBackAt, checkedAt }: StoredAnswer, now: Date): boolean {
  const isFresh = now.getTime() - at.getTime() < TAKE_BACK_DAYS * MS_PER_DAY
  return UNDONE_HERE.includes(act) && !takenBackAt && !checkedAt && isFresh
}

/** An answer of this link's person. @throws not-found for anybody else's */
export async function answerOf({ ctx, link }: Visitor, id: string): Promise<StoredAnswer> {
  const found = await findAnswer(ctx.db, id, link.customerId)
  const isHere = found && (link.propertyId === null || link.propertyId === found.propertyId)
  if (!isHere) throw new Problem('not-found', 'There is no such answer here.')
  return found
}

/** As it was before; where that can no longer be done, they are asked to call and nothing is changed. */
export async function takeBack(visitor: Visitor, id: string): Promise<Thanks> {
  const { ctx } = visitor
  const given = await answerOf(visitor, id)
  if (given.takenBackAt) return { thanks: 'taken-back', answerId: null }
  const isUndone = mayTakeBack(given, ctx.now()) && (await undone(visitor, given))
  await acted(visitor)
  return { thanks: isUndone ? 'taken-back' : 'call-to-take-back', answerId: null }
}

async function undone(visitor: Visitor, given: StoredAnswer): Promise<boolean> {
  const { ctx } = visitor
  try {
    await ctx.db.$transaction(async (tx) => {
      if (!(await setTakenBack(tx, given.id, ctx.now()))) throw new Problem('wrong-state')
      await undo(visitor, tx, given)
    })
    return true
  } catch (error) {
    const isTooLate = error instanceof Problem && error.code === 'wrong-state'
    if (isTooLate || refusedBy(error, 'follow_up_one_open')) return false
    throw error
  }
}

async function undo(visitor: Visitor, tx: Db, given: StoredAnswer): Promise<void> {
  const { ctx } = visitor
  if (given.act === 'not-mine') return restoreParties(visitor, tx, given)
  if (!given.followUpId) throw new Problem('wrong-state')
  if (given.said.thanks === 'declined') return reopenIn(ctx, tx, given.followUpId)
  const { snoozedUntil = null, nextNoticeOn = null } = given.before as Record<string, Day | null>
  const before = { snoozedUntil, nextNoticeOn }
  const until = given.said.until as Day
  if (!(await restoreRest(tx, given.followUpId, until, before, ctx.now()))) throw new Problem('wrong-state')
  const change = {
    action: 'follow-up.snooze-taken-back',
    subjectKind: 'follow-up',
    subjectId: given.followUpId,
  }
  await audit(ctx, tx, { ...change, before: { until }, after: before })
}
