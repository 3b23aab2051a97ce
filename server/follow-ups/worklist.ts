import { z } from 'zod'
import type { Day } from '../../trade/dates.ts'
import type { VisitKind } from '../../trade/visits.ts'
import { everyPage } from '../csv.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { daySchema } from '../fields.ts'
import { idSchema } from '../ids.ts'
import { decodeCursor, type Page, toPage } from '../paging.ts'
import { answersAtHome, countAnswersToLookAt } from '../homeowner/office.ts'
import { getCompany } from '../settings/store.ts'
import { usualLength } from '../visits/length.ts'
import { getPolicy } from './policy.ts'
import type {
  BookingView,
  FollowUpSummary,
  FollowUpView,
  GroupsQuery,
  WorklistFilters,
  WorklistGroup,
  WorklistNumbers,
  WorklistQuery,
} from './schema.ts'
import { phoneScript } from './phone-script.ts'
import { summaryOf } from './words.ts'
import * as store from './worklist-store.ts'

const sortValues = (row: FollowUpSummary): [string, string] => [row.closedAt ?? row.dueOn, row.id]

export async function listWorklist(
  ctx: Ctx,
  { cursor, limit, ...filters }: WorklistQuery,
): Promise<Page<FollowUpSummary>> {
  const first = filters.tab === 'done' ? z.iso.datetime() : daySchema
  const after = decodeCursor(cursor, z.tuple([first, idSchema])) as [string, string] | null
  const policy = await getPolicy(ctx.db)
  const rows = await store.listWorklist(ctx.db, await moment(ctx), filters, after, limit + 1)
  return toPage(
    rows.map((row) => summaryOf(row, policy)),
    limit,
    sortValues,
  )
}

/** The same list whole, page by page. */
export function everyFollowUp(ctx: Ctx, filters: WorklistFilters): AsyncGenerator<FollowUpSummary[]> {
  return everyPage(async (after: [string, string] | null, limit) => {
    const policy = await getPolicy(ctx.db)
    const rows = await store.listWorklist(ctx.db, await moment(ctx), filters, after, limit)
    return rows.map((row) => summaryOf(row, policy))
  }, sortValues)
}

export async function listGroups(ctx: Ctx, query: GroupsQuery): Promise<WorklistGroup[]> {
  return store.listGroups(ctx.db, await moment(ctx), query)
}

export async function countWorklist(ctx: Ctx): Promise<WorklistNumbers> {
  const { now, today } = await moment(ctx)
  const [counts, toLookAt] = await Promise.all([
    store.countWorklist(ctx.db, now, today),
    countAnswersToLookAt(ctx),
  ])
  return { ...counts, toLookAt }
}

/** Now, and the company's day: its weeks and months are what the office plans by. */
async function moment(ctx: Ctx): Promise<{ now: Date; today: Day }> {
  const { timeZone } = await getCompany(ctx.db)
  return { now: ctx.now(), today: ctx.today(timeZone) }
}

export async function readFollowUp(ctx: Ctx, id: string): Promise<FollowUpView> {
  const policy = await getPolicy(ctx.db)
  const row = await store.findWorklistRow(ctx.db, ctx.now(), id)
  if (!row) throw new Problem('not-found', 'There is no such follow-up.')
  const summary = summaryOf(row, policy)
  const [{ messages, calls, nameOf }, atHome, company, answers] = await Promise.all([
    store.listCallsAndMessages(ctx.db, id),
    store.listOpenAt(ctx.db, ctx.now(), row.propertyId),
    getCompany(ctx.db),
    answersAtHome(ctx, row.propertyId),
  ])
  return {
    ...summary,
    answers: answers.map(({ id: answerId, words, at }) => ({ id: answerId, words, at })),
    messages: messages.map(({ step, message }) => ({
      id: message.id,
      kind: message.kind,
      state: message.state,
      step,
      subject: message.subject,
      sentAt: message.sentAt?.toISOString() ?? null,
      openedPageAt: message.openedPageAt?.toISOString() ?? null,
      actedAt: message.actedAt?.toISOString() ?? null,
      createdAt: message.createdAt.toISOString(),
    })),
    calls: calls.map(({ id: callId, outcome, note, byId, at }) => ({
      id: callId,
      outcome,
      note,
      by: nameOf.get(byId) ?? '',
      at: at.toISOString(),
    })),
    script: phoneScript(summary, {
      atHome: atHome.map((each) => summaryOf(each, policy)),
      company,
      language: row.customerLanguage ?? 'en',
      letter: messages[0]?.message.subject ?? null,
      answeredAt: answers.find(({ followUpId }) => followUpId === id)?.at ?? null,
    }),
  }
}

/** What the booking form is filled with, so that a visit is one click. */
export async function readBooking(ctx: Ctx, id: string): Promise<BookingView> {
  const policy = await getPolicy(ctx.db)
  const row = await store.findWorklistRow(ctx.db, ctx.now(), id)
  if (!row) throw new Problem('not-found', 'There is no such follow-up.')
  const kind: VisitKind =
    row.subjectKind === 'finding' || row.subjectKind === 'estimate' ? 'repair' : 'inspection'
  const [atHome, lengthMinutes] = await Promise.all([
    store.listOpenAt(ctx.db, ctx.now(), row.propertyId),
    usualLength(ctx.db, ctx.today(row.timeZone), row.propertyId, kind),
  ])
  return {
    customerId: row.customerId,
    propertyId: row.propertyId,
    kind,
    lengthMinutes,
    reason: row.reason,
    requestId: row.requestId,
    followUps: atHome
      .map((each) => summaryOf(each, policy))
      .map(({ id: followUpId, kindTitle, subject, dueOn }) => ({
        id: followUpId,
        kindTitle,
        subject,
        dueOn,
      })),
  }
}
