import type { FieldOperationInput } from '../../../server/field/operation-schema.ts'
import { type Sheet, sheetOf } from './sheet.ts'
import type { FieldStore } from './store.ts'

/** A visit as it stands on this device: the server's copy, and everything made here since. Null when it is not here. */
export async function readSheet(from: FieldStore, visitId: string): Promise<Sheet | null> {
  return from.transaction('r', from.visits, from.operations, from.sent, async () => {
    const kept = await from.visits.get(visitId)
    if (!kept) return null
    return sheetOf(kept.visit, await operationsOf(from, visitId))
  })
}

/** In the order they were made, whether the server has answered yet or not. Refused ones do not count. */
async function operationsOf(from: FieldStore, visitId: string): Promise<FieldOperationInput[]> {
  const sent = await from.sent.where('visitId').equals(visitId).toArray()
  const kept = await from.operations.where('visitId').equals(visitId).toArray()
  const waiting = kept.filter((each) => each.state === 'waiting')
  return [...sent, ...waiting].sort((a, b) => (a.seq ?? 0) - (b.seq ?? 0)).map((each) => each.operation)
}
