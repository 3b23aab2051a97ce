import type { Db } from '../db.ts'
import { getInspectionAtHome, type InspectionAtHome } from './store.ts'

/** As many inspections as a large office has in hand at once. */
const MOST = 200

const recent = new WeakMap<Db, Map<string, InspectionAtHome>>()

/**
 * What a process last read of an inspection and its home. It may be out of date: whoever writes by it has its stamp held
 * against what is stored, in the same statement.
 */
export function recallAtHome(db: Db, inspectionId: string): InspectionAtHome | undefined {
  return recent.get(db)?.get(inspectionId)
}

export async function readAtHome(db: Db, inspectionId: string): Promise<InspectionAtHome> {
  const read = await getInspectionAtHome(db, inspectionId)
  const known = recent.get(db) ?? new Map<string, InspectionAtHome>()
  recent.set(db, known)
  known.delete(inspectionId)
  known.set(inspectionId, read)
  if (known.size > MOST) known.delete(known.keys().next().value!)
  return read
}
