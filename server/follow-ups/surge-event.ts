import { addDays } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { opensOn } from '../../trade/follow-ups/steps.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import { getProperty } from '../properties/store.ts'
import { getCompany } from '../settings/store.ts'
import { isConfirmed, numberToConfirm } from './many-messages.ts'
import { getPolicy } from './policy.ts'
import type { SurgeEventBody, SurgePreview, SurgePreviewBody } from './surge-event-schema.ts'
import * as store from './surge-event-store.ts'

/** After that nobody remembers the storm; the yearly look sees what it did. */
const LONGEST_AGO_DAYS = 90

/** Whom a storm would concern and how many letters would go out, before anything is done. */
export async function previewSurgeEvent(ctx: Ctx, body: SurgePreviewBody): Promise<SurgePreview> {
  return count(ctx.db, await eventOf(ctx, body, await getPolicy(ctx.db)))
}

async function count(db: Db, event: store.SurgeEventAt): Promise<SurgePreview> {
  const counted = await store.countConcerned(db, event)
  return { ...counted, confirm: numberToConfirm({ before: 0, after: counted.letters }) }
}

/** A storm, or a fault of the utility: the protectors there are to be looked at. */
export async function recordSurgeEvent(
  ctx: Ctx,
  { confirmMessages, ...body }: SurgeEventBody,
): Promise<{ opened: number }> {
  const policy = await getPolicy(ctx.db)
  const at = await eventOf(ctx, body, policy)
  const { letters, confirm } = await count(ctx.db, at)
  if (!isConfirmed(confirm, confirmMessages)) {
    throw new Problem(
      'confirm-messages',
      `About ${letters} letters would go out because of it. Say the number back to go on.`,
      { confirm },
    )
  }
  const { en: reason } = FOLLOW_UP_KINDS['surge-after-event'].reason({
    label: '{label}',
    dueOn: at.dueOn,
    assumed: false,
    severity: null,
  })
  return ctx.db.$transaction(async (tx) => {
    const begins = opensOn(at.dueOn, cadenceOf(policy, 'surge-after-event'))
    const opened = await store.openSurgeEvent(tx, { ...at, opensOn: begins, reason, now: ctx.now() })
    await audit(ctx, tx, {
      action: 'follow-up.surge-event',
      subjectKind: body.propertyId ? 'property' : 'company',
      subjectId: body.propertyId ?? null,
      after: { ...body, opened },
    })
    return { opened }
  })
}

async function eventOf(
  ctx: Ctx,
  { on, city, street, propertyId }: SurgePreviewBody,
  policy: Policy,
): Promise<store.SurgeEventAt> {
  const today = ctx.today((await getCompany(ctx.db)).timeZone)
  if (on > today) throw invalid({ pointer: '#/on', detail: 'that day is still to come' })
  const earliest = addDays(today, -LONGEST_AGO_DAYS)
  if (on < earliest) {
    throw invalid({ pointer: '#/on', detail: `expected a day since ${dayInWords(earliest, 'en')}` })
  }
  if (propertyId) await getProperty(ctx.db, propertyId)
  return { on, dueOn: addDays(on, policy.surge.afterEventDays), where: { city, street, propertyId } }
}
