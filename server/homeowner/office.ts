import { z } from 'zod'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { idSchema } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import type { AnswerListQuery, OfficeAnswer } from './office-schema.ts'
import * as store from './office-store.ts'
import { answerInWords, officeTask } from './office-words.ts'

export async function listAnswers(
  ctx: Ctx,
  { cursor, limit, ...filters }: AnswerListQuery,
): Promise<Page<OfficeAnswer>> {
  const after = decodeCursor(cursor, z.tuple([z.iso.datetime(), idSchema])) as [string, string] | null
  const rows = await store.listAnswers(ctx.db, filters, after, limit + 1)
  return toPage(rows.map(viewOf), limit, (row) => [row.at, row.id])
}

/** Looked at, whatever came of it. From now on it is taken back by telephone only. */
export async function checkAnswer(ctx: Ctx, id: string): Promise<OfficeAnswer> {
  const byId = theUser(ctx).id
  await ctx.db.$transaction(async (tx) => {
    if (!(await store.setChecked(tx, id, byId, ctx.now()))) return
    await audit(ctx, tx, { action: 'homeowner-answer.check', subjectKind: 'homeowner-answer', subjectId: id })
  })
  const row = await store.findAnswerRow(ctx.db, id)
  if (!row) throw new Problem('not-found', 'There is no such answer.')
  return viewOf(row)
}

const SAID_LATELY = 5

/** What was said at a home, the latest first: for whoever phones there. */
export async function answersAtHome(ctx: Ctx, propertyId: string): Promise<OfficeAnswer[]> {
  return (await store.listAnswersAt(ctx.db, propertyId, SAID_LATELY)).map(viewOf)
}

export const countAnswersToLookAt = (ctx: Ctx) => store.countToLookAt(ctx.db)

function viewOf({ linkId: _, said, before: __, ...row }: store.AnswerRow): OfficeAnswer {
  return {
    ...row,
    words: answerInWords({ act: row.act, said }),
    todo: officeTask({ act: row.act, said }),
    at: row.at.toISOString(),
    takenBackAt: row.takenBackAt?.toISOString() ?? null,
    checkedAt: row.checkedAt?.toISOString() ?? null,
  }
}
