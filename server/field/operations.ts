import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import { Problem, PROBLEMS, type ProblemCode } from '../errors.ts'
import { offerOther } from '../inspections/alternatives.ts'
import { type HomeCache, homeCache } from '../inspections/home-cache.ts'
import {
  findOperation,
  findOperations,
  insertOperation,
  type StoredOperation,
} from '../inspections/operation-store.ts'
import { touchInspections } from '../inspections/store.ts'
import { problemOfSql } from '../sql-problems.ts'
import { type Applied, apply } from './commands.ts'
import type {
  FieldOperation,
  OperationOutcome,
  OperationsBody,
  OperationsResult,
} from './operation-schema.ts'
import { readOperation, type ReadOperation, storable, type Unreadable } from './read-operation.ts'

/**
 * Takes what a device did, in the order in which it sends it. Each operation is one transaction with its own entry, so
 * that it is applied once whatever is repeated; one that is refused says why and does not hold back the others. When
 * something fails here that is not the device's fault, the rest of that inspection waits for the next sending.
 */
export async function applyOperations(ctx: Ctx, body: OperationsBody): Promise<OperationsResult> {
  const reads = body.operations.map(readOperation)
  const known = await findOperations(
    ctx.db,
    reads.flatMap(({ id }) => id ?? []),
  )
  const homes = homeCache()
  const outcomes: OperationOutcome[] = []
  const stuck = new Set<string>()
  const touched = new Set<string>()
  for (const read of reads) {
    const stored = read.id && known.get(read.id)
    if (stored) {
      outcomes.push(replayed(ctx, read, stored))
      continue
    }
    if ('isNewer' in read) {
      outcomes.push(later(read.shownId, NEWER))
      continue
    }
    if ('fault' in read) {
      outcomes.push(await refuseUnreadable(ctx, body.deviceId, read))
      continue
    }
    const { operation } = read
    if (stuck.has(operation.inspectionId)) {
      outcomes.push(later(operation.id))
      continue
    }
    const { outcome, applied } = await takeOne(ctx, body.deviceId, read, homes)
    if (outcome.outcome === 'later') stuck.add(operation.inspectionId)
    if (applied) touched.add(applied.inspectionId)
    if (applied?.completed) await ctx.enqueue('notify-household', { propertyId: applied.propertyId })
    outcomes.push(outcome)
  }
  if (touched.size > 0) await touchInspections(ctx.db, [...touched], ctx.now())
  return { serverTime: ctx.now().toISOString(), outcomes }
}

type Readable = Extract<ReadOperation, { operation: FieldOperation }>

interface Taken {
  outcome: OperationOutcome
  /** Only what this call applied; a repetition applies nothing. */
  applied: Applied | null
}

/** What goes out of it: who wrote it is read with the inspection. */
const shown = ({ superseded }: Applied) => superseded && { kind: superseded.kind, record: superseded.record }

/** Thrown to undo what was done when the entry turns out to be there already. */
class TakenMeanwhile extends Error {}

async function takeOne(ctx: Ctx, deviceId: string, read: Readable, homes: HomeCache): Promise<Taken> {
  const { operation } = read
  const entry = entryOf(ctx, deviceId, read)
  try {
    const applied = await ctx.db.$transaction(async (tx) => {
      const done = await apply(ctx, tx, operation, deviceId, homes)
      const { inspectionId, version, subject, changes } = done
      const superseded = shown(done)
      const payload = { ...entry.payload, subject, version, superseded, ...(changes && { changes }) }
      if (!(await insertOperation(tx, { ...entry, inspectionId, payload }))) throw new TakenMeanwhile()
      await offerOther(ctx, tx, inspectionId, operation.id, done)
      return done
    })
    return { outcome: outcomeOf(operation.id, { ...applied, superseded: shown(applied) }), applied }
  } catch (error) {
    homes.forget()
    if (error instanceof TakenMeanwhile) {
      return { outcome: replayed(ctx, read, await findOperation(ctx.db, operation.id)), applied: null }
    }
    const problem = error instanceof Problem ? error : problemOfSql(error)
    if (problem && problem.status < 500)
      return { outcome: await refuse(ctx, read, entry, problem), applied: null }
    ctx.log.error(
      { err: error, operation: operation.id },
      'an operation could not be taken; it will be sent again',
    )
    return { outcome: later(operation.id), applied: null }
  }
}

async function refuse(
  ctx: Ctx,
  read: Readable,
  entry: StoredOperation,
  problem: Problem,
): Promise<OperationOutcome> {
  const stored = { ...entry, outcome: 'refused' as const, problem: documentOf(problem) }
  if (await insertOperation(ctx.db, stored)) return refused(entry.id, stored.problem)
  // Somebody sent the same one at the same time: theirs is the answer.
  return replayed(ctx, read, await findOperation(ctx.db, entry.id))
}

function entryOf(ctx: Ctx, deviceId: string, { operation, fingerprint }: Readable): StoredOperation {
  const { id, at, base = null, inspectionId, command, payload } = operation
  return {
    id,
    inspectionId: null,
    userId: theUser(ctx).id,
    deviceId,
    command,
    payload: { at, base, inspectionId, fingerprint, payload: storable(payload) },
    outcome: 'applied',
    problem: null,
    receivedAt: ctx.now(),
  }
}

/** What was answered then. Another act under the same id is a fault of the sender, and changes nothing. */
function replayed(ctx: Ctx, read: ReadOperation, stored: StoredOperation | null): OperationOutcome {
  const isSame =
    stored !== null && stored.userId === theUser(ctx).id && stored.payload['fingerprint'] === read.fingerprint
  if (!isSame) {
    const problem = new Problem(
      'key-reused',
      'This id was used for another operation; make a new one for each.',
    )
    return refused(read.shownId, documentOf(problem))
  }
  const { version = null, superseded = null } = stored.payload as Partial<
    Pick<OperationOutcome, 'version' | 'superseded'>
  >
  if (stored.outcome === 'refused') return { ...refused(stored.id, stored.problem ?? {}), replayed: true }
  return { ...outcomeOf(stored.id, { version, superseded }), replayed: true }
}

/** Kept as far as it can be, so that the office can see what a device could not deliver. */
async function refuseUnreadable(
  ctx: Ctx,
  deviceId: string,
  read: Extract<ReadOperation, Unreadable>,
): Promise<OperationOutcome> {
  const problem = documentOf(read.fault)
  if (read.id) {
    await insertOperation(ctx.db, {
      id: read.id,
      inspectionId: null,
      userId: theUser(ctx).id,
      deviceId,
      command: read.command,
      payload: { fingerprint: read.fingerprint, payload: read.payload },
      outcome: 'refused',
      problem,
      receivedAt: ctx.now(),
    })
  }
  return refused(read.shownId, problem)
}

const outcomeOf = (
  id: string,
  { version, superseded }: { version: number | null; superseded: unknown },
): OperationOutcome => ({
  id,
  outcome: 'applied',
  replayed: false,
  problem: null,
  superseded: superseded as OperationOutcome['superseded'],
  version,
})

const refused = (id: string | null, problem: Record<string, unknown>): OperationOutcome => ({
  id,
  outcome: 'refused',
  replayed: false,
  problem,
  superseded: null,
  version: null,
})

const NEWER =
  'This app is newer than the office. It is kept on the device and taken once the office has been brought up to date.'

function later(
  id: string | null,
  detail = 'It could not be taken just now; keep it and send it again.',
): OperationOutcome {
  return { ...refused(id, documentOf(new Problem('not-available', detail))), outcome: 'later' }
}

/** RFC 9457. Pointers lead into the payload of the operation. */
function documentOf(problem: Problem): Record<string, unknown> {
  const code: ProblemCode = problem.code
  const { title, status } = PROBLEMS[code]
  return { type: `/problems/${code}`, title, status, detail: problem.message, ...problem.more }
}
