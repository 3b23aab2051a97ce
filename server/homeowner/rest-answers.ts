import { addDays, type Day, day } from '../../trade/dates.ts'
import type { FollowUpKindId } from '../../trade/follow-ups/kind.ts'
import { puttingOff } from '../../trade/follow-ups/putting-off.ts'
import type { Severity } from '../../trade/verdict.ts'
import { audit } from '../audit/store.ts'
import { closeFollowUps, restUntil } from '../follow-ups/store.ts'
import { getPolicy } from '../follow-ups/policy.ts'
import { toDay } from '../time.ts'
import { ALREADY, type AnswerBody, type AtHome, type FollowUp, type Word } from './word.ts'
import { FormFault } from './entry.ts'

/** Left in peace for a while: for days only where somebody could get hurt. */
export async function snooze(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  if (followUp.closedAt) return ALREADY
  const facts = {
    kind: followUp.kind as FollowUpKindId,
    severity: (followUp.finding?.severity ?? null) as Severity | null,
    dueOn: day(toDay(followUp.dueOn)),
  }
  const { choices } = puttingOff(facts, at.ctx.today(at.home.timeZone))
  const choice = choices.find(({ length }) => length === body.length)
  if (!choice) throw new FormFault(at.words.errors.choose)
  return {
    thanks: 'snoozed',
    said: { until: choice.until },
    before: restOf(followUp),
    write: rest(at, followUp, choice.until),
  }
}

/** With a name and the box ticked. A hazard is asked about again after the recheck time, whoever declines. */
export async function decline(at: AtHome, followUp: FollowUp, body: AnswerBody): Promise<Word | 'already'> {
  const { ctx, words, home } = at
  if (followUp.closedAt) return ALREADY
  if (body.name === '') throw new FormFault(words.errors.name)
  if (body.understood !== 'yes') throw new FormFault(words.errors.acknowledge)
  const { name, reason } = body
  const declined = { name, reason, understood: true }
  if (followUp.finding?.severity === 'unsafe') {
    const { refusedRecheckDays } = (await getPolicy(ctx.db)).finding
    const until = addDays(ctx.today(home.timeZone), refusedRecheckDays)
    return {
      thanks: 'declined-danger',
      said: { name, reason, until },
      before: restOf(followUp),
      write: rest(at, followUp, until, { declined }),
    }
  }
  const why = `Declined on their page by ${name}${reason && `: ${reason}`}`
  return {
    thanks: 'declined',
    said: { name, reason },
    write: async (tx) => {
      const how = { state: 'dismissed', reason: why, byId: null, now: ctx.now() } as const
      if ((await closeFollowUps(tx, [followUp.id], how)).size === 0) return
      const change = { action: 'follow-up.dismiss', subjectKind: 'follow-up', subjectId: followUp.id }
      await audit(ctx, tx, { ...change, after: { ...declined, reason: why } })
    },
  }
}

const restOf = ({ snoozedUntil, nextNoticeOn }: FollowUp) => ({
  snoozedUntil: snoozedUntil && toDay(snoozedUntil),
  nextNoticeOn: nextNoticeOn && toDay(nextNoticeOn),
})

const rest =
  ({ ctx }: AtHome, followUp: FollowUp, until: Day, more: Record<string, unknown> = {}): Word['write'] =>
  async (tx) => {
    if (!(await restUntil(tx, followUp.id, until, ctx.now()))) return
    const change = { action: 'follow-up.snooze', subjectKind: 'follow-up', subjectId: followUp.id }
    await audit(ctx, tx, { ...change, after: { until, ...more } })
  }
