import { mayFillInspection } from '../../trade/permissions.ts'
import { theUser } from '../accounts/service.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { dayInZone } from '../time.ts'
import type { HomeCache } from './home-cache.ts'
import { findFieldWriters, findLastWriter } from './operation-store.ts'
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
  superseded: { kind: string; record: unknown } | null
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

/**
 * Whether the stored record was written by someone else since the person saw it. Their own earlier change from the same
 * device is no conflict: without signal a device cannot know the version that it will have.
 */
export async function wasWrittenElsewhere(
  ctx: Ctx,
  tx: Db,
  { inspection, base, deviceId }: Pick<Writing, 'inspection' | 'base' | 'deviceId'>,
  subject: string,
  stored: { version: number },
): Promise<boolean> {
  if (stored.version === base) return false
  const writer = await findLastWriter(tx, inspection.id, subject)
  // Written outside operations: an answer at a desk, or a thing that was on record before the inspection began.
  if (!writer) return base !== null || subject.startsWith('answer:')
  return writer.deviceId !== deviceId || writer.userId !== theUser(ctx).id
}

/**
 * The earlier values that this change replaced unseen: fields that another device had filled in meanwhile. Fields that
 * only one of them named are no conflict. Null when nothing was replaced.
 */
export async function replacedFields(
  ctx: Ctx,
  tx: Db,
  { inspection, base, deviceId }: Pick<Writing, 'inspection' | 'base' | 'deviceId'>,
  subject: string,
  before: { version: number } & Readonly<Record<string, unknown>>,
  changes: Readonly<Record<string, unknown>>,
): Promise<Readonly<Record<string, unknown>> | null> {
  if (before.version === base) return null
  const writers = await findFieldWriters(tx, inspection.id, subject)
  const me = theUser(ctx).id
  const earlier = Object.entries(changes).flatMap(([field, value]) => {
    const writer = writers.get(field)
    const isOthers = writer && (writer.deviceId !== deviceId || writer.userId !== me)
    return isOthers && before[field] != null && before[field] !== value ? [[field, before[field]]] : []
  })
  return earlier.length > 0 ? Object.fromEntries(earlier) : null
}
