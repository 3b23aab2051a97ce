import type { DexieOptions } from 'dexie'
import { newId } from '../../shared/ids.ts'
import { FieldStore } from './store.ts'

const FIRST = 'watchlamp-field'
const REMEMBERED = 'watchlamp-field-store'

/** Which of the stores on this device was open last; also without signal. */
export function storeName(): string {
  return globalThis.localStorage?.getItem(REMEMBERED) ?? FIRST
}

/**
 * Somebody else is logged in on this device: from now on their own store is open. What the one before has not sent stays
 * in theirs, unread, until they log in again; if nothing is left to send, it is deleted.
 * @returns the name of the store that is theirs
 */
export async function handOver(
  from: FieldStore,
  person: string,
  options: DexieOptions & { indexedDB?: IDBFactory } = {},
): Promise<string> {
  const name = (await findStoreOf(person, options)) ?? `${FIRST}-${newId()}`
  const { operations, photos, steps } = await from.unsent()
  if (operations + photos + steps === 0) await from.delete()
  return name
}

export function rememberStore(name: string): void {
  localStorage.setItem(REMEMBERED, name)
}

async function findStoreOf(
  person: string,
  options: DexieOptions & { indexedDB?: IDBFactory },
): Promise<string | null> {
  const all = await (options.indexedDB ?? indexedDB).databases()
  for (const { name } of all) {
    if (!name?.startsWith(FIRST)) continue
    const store = new FieldStore(name, options)
    const owner = await store.person()
    store.close()
    if (owner === person) return name
  }
  return null
}
