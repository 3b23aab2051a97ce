import { type Day, day } from '../../trade/dates.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { type FindingState, isClosed, mayBecome } from '../../trade/inspection/finding-states.ts'
import { saysTheSame } from '../../trade/inspection/recorded-twice.ts'
import { needsLoweredReason } from '../../trade/inspection/severity.ts'
import type { Severity } from '../../trade/verdict.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { invalid, Problem } from '../errors.ts'
import type { PayloadOf } from '../field/operation-schema.ts'
import { planFollowUps } from '../follow-ups/service.ts'
import { fromDay } from '../time.ts'
import { changedMeanwhile } from '../versions.ts'
import { findAnswer } from './answer-store.ts'
import * as store from './finding-store.ts'
import type { HomeRecord } from './home-store.ts'
import { checkItem } from './lines.ts'
import { asFinding } from './record-store.ts'
import type { FindingView } from './record-schema.ts'
import type { ChangeFindingBody } from './schema.ts'
import { checkSignature } from './signature-hash.ts'
import { getInspection, type Inspection } from './store.ts'
import { judgeLine, severityProposed } from './verdicts.ts'
import {
  checkMayFill,
  dayOfWriting,
  type Effect,
  removedElsewhere,
  type Superseded,
  type Writing,
  writtenElsewhere,
} from './writing.ts'

type SaveFinding = PayloadOf<'save-finding'>

/** Writes a finding, or changes one: of this inspection, or an earlier one that is still open at this home. */
export async function saveFinding(ctx: Ctx, tx: Db, writing: Writing, body: SaveFinding): Promise<Effect> {
  const { inspection } = writing
  const subject = `finding:${body.findingId}`
  checkItem(body.itemId)
  const before = await store.findFinding(tx, body.findingId)
  if (before) checkReachable(inspection, before)
  const home = await writing.homes.get(tx, inspection.propertyId)
  if (!before) checkPlace(body, home)
  const words = {
    severity: body.severity,
    loweredReason: body.loweredReason,
    rule: body.rule,
    text: body.text,
    correction: body.correction,
    makeSafe: body.makeSafe,
    watchUntil: fromDay(body.watchUntil),
    proposedSeverity: await proposedFor(ctx, tx, inspection, home, body),
  }
  const isOwn = before?.inspectionId === inspection.id
  const superseded = before
    ? await offered(ctx, tx, writing, subject, before, body)
    : await offeredRemoval(ctx, tx, writing, subject, body.findingId)
  const place = { itemId: body.itemId, spaceId: body.spaceId, equipmentId: body.equipmentId }
  if (before && isOwn) checkPlace(body, home, before)
  const now = ctx.now()
  const after = before
    ? await store.updateFinding(tx, before.id, now, isOwn ? { ...words, ...place } : words)
    : await store.insertFinding(tx, {
        id: body.findingId,
        inspectionId: inspection.id,
        propertyId: inspection.propertyId,
        ...place,
        ...words,
        foundOn: fromDay(dayOfWriting(writing)),
        createdAt: now,
        updatedAt: now,
      })
  return { subject, version: after?.version ?? null, superseded }
}

async function offered(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  subject: string,
  before: FindingView,
  body: SaveFinding,
): Promise<Superseded | null> {
  // What the rule proposes is asked anew each time; nobody recorded it.
  const { proposedSeverity } = before
  if (saysTheSame('finding', { ...before }, { ...body, id: before.id, proposedSeverity })) return null
  const elsewhere = await writtenElsewhere(ctx, tx, writing, subject, before)
  return elsewhere && { kind: 'finding', record: { ...before }, by: elsewhere.by }
}

/** They saw a finding here, and somebody removed it meanwhile. */
async function offeredRemoval(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  subject: string,
  id: string,
): Promise<Superseded | null> {
  const elsewhere = await removedElsewhere(ctx, tx, writing, subject)
  return elsewhere && { kind: 'finding', record: { id, removed: true }, by: elsewhere.by }
}

/** Findings of another home, or closed ones, are none of this inspection's business. */
export function checkReachable(inspection: Inspection, finding: FindingView): void {
  if (finding.propertyId !== inspection.propertyId) {
    throw new Problem('not-found', 'There is no such finding at this home.')
  }
  if (finding.closedOn !== null) {
    throw new Problem(
      'wrong-state',
      `This finding was closed on ${dayInWords(day(finding.closedOn), 'en')}.`,
      {
        state: finding.state,
      },
    )
  }
}

function checkPlace(body: SaveFinding, home: HomeRecord, before?: FindingView): void {
  const { spaceId, equipmentId } = body
  if (spaceId && equipmentId) {
    throw invalid({ pointer: '#/spaceId', detail: 'name the room or the equipment, not both' })
  }
  const known = (list: readonly { id: string }[], id: string) => list.some((each) => each.id === id)
  if (spaceId && spaceId !== before?.spaceId && !known(home.spaces, spaceId)) {
    throw invalid({ pointer: '#/spaceId', detail: 'this home has no such room' })
  }
  if (equipmentId && equipmentId !== before?.equipmentId && !known(home.equipment, equipmentId)) {
    throw invalid({ pointer: '#/equipmentId', detail: 'this home has no such equipment in use' })
  }
}

/** The rule is asked again here: what a device says that it proposed is not taken over. */
async function proposedFor(
  ctx: Ctx,
  tx: Db,
  inspection: Inspection,
  home: HomeRecord,
  body: SaveFinding,
): Promise<Severity | null> {
  if (!body.rule) return null
  const { itemId, spaceId, equipmentId } = body
  const line = {
    itemId,
    subjectKind: equipmentId ? ('equipment' as const) : spaceId ? ('space' as const) : ('home' as const),
    subjectId: equipmentId ?? spaceId,
  }
  const answer = await findAnswer(tx, inspection.id, line)
  const verdicts = judgeLine(home, ctx.today(inspection.timeZone), {
    ...line,
    readings: answer?.readings ?? {},
  })
  return severityProposed(verdicts, body.rule)
}

/** Only what this inspection wrote down. What something was already made of is closed instead of lost. */
export async function removeFinding(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { findingId }: PayloadOf<'remove-finding'>,
): Promise<Effect> {
  const { inspection } = writing
  const subject = `finding:${findingId}`
  const before = await store.findFinding(tx, findingId)
  if (!before) return { subject, version: null, superseded: null }
  if (before.inspectionId !== inspection.id) {
    throw new Problem(
      'wrong-state',
      'Only a finding of this inspection can be removed; review the earlier one.',
    )
  }
  const elsewhere = await writtenElsewhere(ctx, tx, writing, subject, before)
  if (await store.isReferredTo(tx, findingId)) {
    const closedOn = fromDay(dayOfWriting(writing))
    await store.updateFinding(tx, findingId, ctx.now(), { state: 'no-longer-applies', closedOn })
  } else {
    await store.deleteFinding(tx, findingId)
  }
  await audit(ctx, tx, { action: 'finding.remove', subjectKind: 'finding', subjectId: findingId, before })
  return {
    subject,
    version: null,
    superseded: elsewhere && { kind: 'finding', record: { ...before }, by: elsewhere.by },
  }
}

/** The owner refuses to have it made safe. The signature is bound to the words that were shown. */
export async function refuseMakeSafe(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { findingId, signature }: PayloadOf<'refuse-make-safe'>,
): Promise<Effect> {
  const before = await store.getFinding(tx, findingId)
  checkReachable(writing.inspection, before)
  checkSignature(signature)
  const after = await store.updateFinding(tx, findingId, ctx.now(), { refusal: signature })
  await audit(ctx, tx, {
    action: 'finding.refuse-make-safe',
    subjectKind: 'finding',
    subjectId: findingId,
    after: { name: signature.name, at: signature.at, statement: signature.statement },
  })
  return { subject: `finding:${findingId}`, version: after?.version ?? null, superseded: null }
}

/** What became of an earlier finding. It changes the finding itself only when the inspection is completed. */
export async function reviewCarried(
  ctx: Ctx,
  tx: Db,
  writing: Writing,
  { findingId, outcome, note }: PayloadOf<'review-carried'>,
): Promise<Effect> {
  const { inspection } = writing
  const subject = `review:${findingId}`
  const finding = await store.getFinding(tx, findingId)
  if (finding.inspectionId === inspection.id) {
    throw new Problem('wrong-state', 'This finding belongs to this inspection: change it instead.')
  }
  checkReachable(inspection, finding)
  const before = await store.findReview(tx, inspection.id, findingId)
  const elsewhere =
    before && (before.outcome !== outcome || before.note !== note)
      ? await writtenElsewhere(ctx, tx, { ...writing, base: null }, subject, { version: 1 })
      : null
  await store.saveReview(tx, {
    inspectionId: inspection.id,
    findingId,
    outcome,
    note,
    reviewedById: theUser(ctx).id,
    reviewedAt: writing.at,
  })
  return {
    subject,
    version: null,
    superseded: elsewhere && { kind: 'review', record: { ...before }, by: elsewhere.by },
  }
}

export async function readFinding(ctx: Ctx, id: string): Promise<FindingView> {
  const finding = await store.getFinding(ctx.db, id)
  checkMayFill(ctx, await getInspection(ctx.db, finding.inspectionId))
  return finding
}

/** A desk changes a finding after it was written: its words while the report is reviewed, its state as life goes on. */
export async function changeFinding(
  ctx: Ctx,
  id: string,
  seen: number,
  change: ChangeFindingBody,
): Promise<FindingView> {
  return ctx.db.$transaction(async (tx) => {
    const before = await store.getFinding(tx, id)
    const inspection = await getInspection(tx, before.inspectionId)
    checkMayFill(ctx, inspection)
    if (before.version !== seen) throw changedMeanwhile(seen, before)
    checkStep(before, change.state)
    const { watchUntil, state, ...words } = change
    const merged = { ...before, ...words }
    if (inspection.state !== 'open' && needsLoweredReason(asFinding(merged))) {
      throw invalid({
        pointer: '#/loweredReason',
        detail: 'a rule proposed a graver severity: say why it is lowered',
      })
    }
    const closes = state !== undefined && isClosed(state)
    const after = await store.updateFinding(
      tx,
      id,
      ctx.now(),
      {
        ...words,
        ...(watchUntil !== undefined && { watchUntil: fromDay(watchUntil as Day | null) }),
        ...(state && { state }),
        ...(closes && { closedOn: fromDay(ctx.today(inspection.timeZone)) }),
      },
      seen,
    )
    if (!after) throw changedMeanwhile(seen, await store.getFinding(tx, id))
    await audit(ctx, tx, { action: 'finding.change', subjectKind: 'finding', subjectId: id, before, after })
    if (inspection.state !== 'open') await planFollowUps(ctx, tx, before.propertyId)
    return after
  })
}

function checkStep(before: FindingView, state: FindingState | undefined): void {
  if (state === undefined || state === before.state) return
  if (mayBecome(before.state as FindingState, state)) return
  throw new Problem('wrong-state', `A finding that is “${before.state}” cannot become “${state}”.`, {
    state: before.state,
  })
}
