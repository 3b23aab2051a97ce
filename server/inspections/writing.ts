import { isDeepStrictEqual } from 'node:util'
import type { TwiceKind } from '../../trade/inspection/recorded-twice.ts'
import { mayFillInspection } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { dayInZone } from '../time.ts'
import type { HomeCache } from './home-cache.ts'
import { findFieldWriters, findLastWriter, type Writer } from './operation-store.ts'
import type { Inspection } from './store.ts'

/** One write to an open inspection that the caller holds, and where it comes from. */
export interface Writing {
  inspection: Inspection
  /** When it was done, as near as we believe the device. */
  at: Date
  /** Version of the record that the person saw; null: none. */
  base: number | null
  deviceId: string
  /** The home as it was read for this batch of writes. */
  homes: HomeCache
}

/** What a write came to. */
export interface Effect {
  /** Names the line, finding or thing that was written: later writes look here for who was before them. */
  subject: string
  version: number | null
  /** What was replaced unseen: another device wrote it meanwhile. */
  superseded: Superseded | null
  /** Fields that were written without being named in the payload. */
  changes?: Readonly<Record<string, unknown>>
}

export interface Superseded {
  kind: TwiceKind | 'inspection'
  record: Readonly<Record<string, unknown>>
  /** Null when it was not written by an operation. */
  by: Writer | null
}

/** A device's clock may be wrong: never in the future, and not before the inspection was begun. */
export function believable(at: Date, now: Date, startedAt: Date): Date {
  return at > now || at < startedAt ? now : at
}

export function dayOfWriting({ at, inspection }: Writing) {
  return dayInZone(at, inspection.timeZone)
}

export function checkMayFill(ctx: Ctx, inspection: Inspection): void {
  const user = theUser(ctx)
  if (mayFillInspection(user, inspection)) return
  throw new Problem('not-allowed', `This inspection belongs to ${inspection.technicianName}.`)
}

export function checkOpen(inspection: Inspection): void {
  if (inspection.state === 'open') return
  throw new Problem(
    'wrong-state',
    inspection.state === 'issued'
      ? 'The report of this inspection has been issued; the office can issue a corrected one.'
      : 'This inspection has been completed; the office can open it again.',
    { state: inspection.state },
  )
}

type Where = Pick<Writing, 'inspection' | 'base' | 'deviceId'>

/**
 * The one who wrote the stored record since the person saw it; null when nobody else did. Their own earlier change from
 * the same device is no conflict: without signal a device cannot know the version that it will have.
 */
export async function writtenElsewhere(
  ctx: Ctx,
  tx: Db,
  { inspection, base, deviceId }: Where,
  subject: string,
  stored: { version: number },
): Promise<{ by: Writer | null } | null> {
  if (stored.version === base) return null
  const writer = await findLastWriter(tx, inspection.id, subject)
  // Written outside operations: an answer at a desk, or a thing that was on record before the inspection began.
  if (!writer) return base !== null || subject.startsWith('answer:') ? { by: null } : null
  // A desk wrote after the last operation.
  if (writer.version !== null && writer.version !== stored.version) return { by: null }
  return isOthers(ctx, writer, deviceId) ? { by: writer } : null
}

/** The one who took away, elsewhere, what the person saw; null when it never was there, or they did it themselves. */
export async function removedElsewhere(
  ctx: Ctx,
  tx: Db,
  { inspection, base, deviceId }: Where,
  subject: string,
): Promise<{ by: Writer } | null> {
  if (base === null) return null
  const writer = await findLastWriter(tx, inspection.id, subject)
  return writer && isOthers(ctx, writer, deviceId) ? { by: writer } : null
}

const isOthers = (ctx: Ctx, writer: Writer, deviceId: string) =>
  writer.deviceId !== deviceId || writer.userId !== theUser(ctx).id

/**
 * The earlier values that this change replaced unseen: fields that another device had filled in meanwhile. Fields that
 * only one of them named are no conflict. Null when nothing was replaced.
 */
export async function replacedFields(
  ctx: Ctx,
  tx: Db,
  { inspection, base, deviceId }: Where,
  subject: string,
  before: { version: number } & Readonly<Record<string, unknown>>,
  changes: Readonly<Record<string, unknown>>,
): Promise<{ changes: Readonly<Record<string, unknown>>; by: Writer } | null> {
  if (before.version === base) return null
  const writers = await findFieldWriters(tx, inspection.id, subject)
  const earlier = Object.entries(changes).flatMap(([field, value]) => {
    const by = writers.get(field)
    const isUnseen = by && isOthers(ctx, by, deviceId)
    const earlierValue = before[field] ?? null
    return isUnseen && !isDeepStrictEqual(earlierValue, value ?? null)
      ? [{ field, by, value: earlierValue }]
      : []
  })
  if (earlier.length === 0) return null
  return {
    changes: Object.fromEntries(earlier.map(({ field, value }) => [field, value])),
    by: earlier[0]!.by,
  }
}
