import type { Page } from 'playwright-core'

/** What the device itself holds, read from its database as the app's own code would. */
export interface OnDevice {
  /** Changes that wait, in their order. */
  waiting: { id: string; command: string; line: string }[]
  /** Ids of changes that the office has, until the next fetch of the days. */
  sent: string[]
  photos: { id: string; state: string; bytes: number }[]
}

export function onDevice(page: Page): Promise<OnDevice> {
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const opening = indexedDB.open('watchlamp-field')
      opening.onsuccess = () => resolve(opening.result)
      opening.onerror = () => reject(opening.error ?? new Error('no database'))
    })
    const all = <Row>(table: string) =>
      new Promise<Row[]>((resolve, reject) => {
        const asking = database.transaction(table).objectStore(table).getAll()
        asking.onsuccess = () => resolve(asking.result as Row[])
        asking.onerror = () => reject(asking.error ?? new Error(table))
      })
    interface Stored {
      id: string
      state: string
      operation: { command: string; payload: { itemId?: string; subjectId?: string | null } }
    }
    const lineOf = ({ id, operation: { command, payload } }: Stored) => ({
      id,
      command,
      line: `${payload.itemId ?? ''} ${payload.subjectId ?? ''}`,
    })
    const operations = await all<Stored>('operations')
    const sent = await all<{ id: string }>('sent')
    const photos = await all<{ id: string; state: string; bytes: ArrayBuffer }>('photos')
    database.close()
    return {
      waiting: operations.filter((each) => each.state === 'waiting').map(lineOf),
      sent: sent.map((each) => each.id),
      photos: photos.map(({ id, state, bytes }) => ({ id, state, bytes: bytes.byteLength })),
    }
  })
}

/** Until the service worker has the whole app: from here on it opens without signal. */
export async function untilAppIsKept(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => true))
}
