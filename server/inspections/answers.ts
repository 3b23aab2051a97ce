import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { lineKey } from '../../trade/inspection/lines.ts'
import { saysTheSame } from '../../trade/inspection/recorded-twice.ts'
import { offerOther } from './alternatives.ts'
import * as store from './answer-store.ts'
import type { HomeRecord } from './home-store.ts'
import { checkLine, checkReadings } from './lines.ts'
import { DESK, insertOperation } from './operation-store.ts'
import type { AnswerResult, AnswerView } from './record-schema.ts'
import type { AnswerBody, SubmitAnswerBody } from './schema.ts'
import { readAtHome, recallAtHome } from './at-home.ts'
import type { Inspection, InspectionAtHome } from './store.ts'
import { judgeLine } from './verdicts.ts'
import {
  checkMayFill,
  checkOpen,
  type Effect,
  removedElsewhere,
  type Superseded,
  type Writing,
  writtenElsewhere,
} from './writing.ts'

const subjectOf = (line: store.LineRef) => `answer:${lineKey(line.itemId, line.subjectId)}`

/** Checks an answer and has the rules judge it. Nothing is written yet. */
function draft(
  ctx: Ctx,
  inspection: Inspection,
  home: HomeRecord,
  body: AnswerBody,
  at: Date,
): store.NewAnswer {
  const item = checkLine(body, home)
  const readings = checkReadings(item, body.readings)
  const by = theUser(ctx).id
  return {
    id: newId(),
    itemId: body.itemId,
    subjectKind: body.subjectKind,
    subjectId: body.subjectId,
    result: body.result,
    notReachedReason: body.result === 'not-reached' ? body.notReachedReason : null,
    note: body.note,
    readings,
    verdicts: judgeLine(home, ctx.today(inspection.timeZone), { ...body, readings }) as unknown as Record<
      string,
      unknown
    >[],
    disagreements: body.disagreements.map((each) => ({ ...each, by, at: at.toISOString() })),
    answeredById: by,
    answeredAt: at,
  }
}

/** Answers a line, in the transaction of an operation. Of two devices the later one stands; the other is offered. */
export async function answerItem(ctx: Ctx, tx: Db, writing: Writing, body: AnswerBody): Promise<Effect> {
  const { inspection } = writing
  const subject = subjectOf(body)
  const home = await writing.homes.get(tx, inspection.propertyId)
  const stored = await store.writeAnswer(tx, inspection.id, draft(ctx, inspection, home, body, writing.at))
  if (!stored) throw new Problem('wrong-state', 'This inspection was completed meanwhile.')
  const { answer, before } = stored
  return {
    subject,
    version: answer.version,
    superseded: before
      ? await offered(ctx, tx, writing, subject, before, answer)
      : await offeredTakenBack(ctx, tx, writing, subject, answer),
  }
}

async function offered(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  subject: string,
  before: AnswerView,
  answer: AnswerView,
): Promise<Superseded | null> {
  if (saysTheSame('answer', { ...before }, { ...answer })) return null
  const elsewhere = await writtenElsewhere(ctx, tx, writing, subject, before)
  return elsewhere && { kind: 'answer', record: { ...before }, by: elsewhere.by }
}

/** They saw an answer here, and somebody took it back meanwhile. */
async function offeredTakenBack(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  subject: string,
  { itemId, subjectKind, subjectId }: store.LineRef,
): Promise<Superseded | null> {
  const elsewhere = await removedElsewhere(ctx, tx, writing, subject)
  return (
    elsewhere && {
      kind: 'answer',
      record: { itemId, subjectKind, subjectId, result: null },
      by: elsewhere.by,
    }
  )
}

export async function clearAnswer(ctx: Ctx, tx: Db, writing: Writing, line: store.LineRef): Promise<Effect> {
  const subject = subjectOf(line)
  const before = await store.findAnswer(tx, writing.inspection.id, line)
  if (!before) return { subject, version: null, superseded: null }
  const elsewhere = await writtenElsewhere(ctx, tx, writing, subject, before)
  await store.deleteAnswer(tx, before.id)
  return {
    subject,
    version: null,
    superseded: elsewhere && { kind: 'answer', record: { ...before }, by: elsewhere.by },
  }
}

/**
 * The same from a desk: one statement, as long as nothing changed since this process last read the home. Only an answer
 * of somebody else that is replaced is kept aside.
 */
export async function submitAnswer(ctx: Ctx, id: string, body: SubmitAnswerBody): Promise<AnswerResult> {
  const { inspection, answer, before } =
    (await writeFromMemory(ctx, id, body)) ?? (await writeAnew(ctx, id, body))
  const isOthers = before !== null && before.answeredById !== answer.answeredById
  const unseen =
    isOthers && before.version !== (body.base ?? 0) && !saysTheSame('answer', { ...before }, { ...answer })
  if (isOthers) await keepReplaced(ctx, inspection, body, answer, before, unseen)
  return { ...answer, superseded: unseen ? { kind: 'answer', record: before } : null }
}

type WrittenAtDesk = { inspection: Inspection; answer: AnswerView; before: AnswerView | null }

/** Null when this process knows nothing of the inspection, or what it knows does not hold any more. */
async function writeFromMemory(ctx: Ctx, id: string, body: SubmitAnswerBody): Promise<WrittenAtDesk | null> {
  const known = recallAtHome(ctx.db, id)
  if (!known) return null
  let answer: store.NewAnswer
  try {
    answer = draftAtDesk(ctx, known, body)
  } catch (error) {
    // What refuses it may be out of date, too.
    if (error instanceof Problem) return null
    throw error
  }
  const stored = await store.writeAnswer(ctx.db, id, answer, known.stamp)
  return stored && { inspection: known.inspection, ...stored }
}

async function writeAnew(ctx: Ctx, id: string, body: SubmitAnswerBody): Promise<WrittenAtDesk> {
  const read = await readAtHome(ctx.db, id)
  const stored = await store.writeAnswer(ctx.db, id, draftAtDesk(ctx, read, body))
  if (!stored) throw new Problem('wrong-state', 'This inspection was completed meanwhile.')
  return { inspection: read.inspection, ...stored }
}

function draftAtDesk(
  ctx: Ctx,
  { inspection, home }: InspectionAtHome,
  body: SubmitAnswerBody,
): store.NewAnswer {
  checkMayFill(ctx, inspection)
  checkOpen(inspection)
  return draft(ctx, inspection, home, body, ctx.now())
}

async function keepReplaced(
  ctx: Ctx,
  inspection: Inspection,
  body: SubmitAnswerBody,
  answer: AnswerView,
  before: AnswerView,
  unseen: boolean,
): Promise<void> {
  const { base, ...payload } = body
  const id = newId()
  const subject = subjectOf(body)
  const superseded: Superseded = { kind: 'answer', record: { ...before }, by: null }
  await insertOperation(ctx.db, {
    id,
    inspectionId: inspection.id,
    userId: answer.answeredById,
    deviceId: DESK,
    command: 'answer-item',
    payload: {
      at: answer.answeredAt,
      base: base ?? null,
      subject,
      payload,
      version: answer.version,
      superseded,
    },
    outcome: 'applied',
    problem: null,
    receivedAt: ctx.now(),
  })
  if (unseen) await offerOther(ctx, ctx.db, inspection.id, id, { subject, superseded })
}
