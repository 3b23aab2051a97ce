import { newId } from '../../shared/ids.ts'
import type { FieldStore } from './store.ts'

/** A tab that has not renewed its turn for this long is taken for closed. */
const TURN_MS = 30_000

interface Turn {
  tab: string
  until: number
}

/** Another tab of this browser is sending; its turn is over when it says so, or falls silent. */
export class AnotherTab extends Error {}

/**
 * Of several tabs one sends at a time. Browsers have locks for that, but only on https and this machine; elsewhere a tab
 * takes its turn in the store itself and renews it before each request.
 * @throws AnotherTab without locks, when it is another one's turn
 */
export async function alone<Result>(
  store: FieldStore,
  work: (renew: () => Promise<void>) => Promise<Result>,
  locks: LockManager | undefined = globalThis.navigator?.locks,
): Promise<Result> {
  if (locks) return locks.request(`${store.name}-sync`, () => work(async () => {})) as Promise<Result>
  const tab = newId()
  const renew = () => takeTurn(store, tab)
  await renew()
  try {
    return await work(renew)
  } finally {
    await store.transaction('rw', store.settings, async () => {
      if ((await store.setting<Turn>('lease'))?.tab === tab) await store.settings.delete('lease')
    })
  }
}

/** All tabs of one browser go by one clock. */
async function takeTurn(store: FieldStore, tab: string): Promise<void> {
  await store.transaction('rw', store.settings, async () => {
    const turn = await store.setting<Turn>('lease')
    if (turn && turn.tab !== tab && turn.until > Date.now()) throw new AnotherTab()
    await store.settings.put({ key: 'lease', value: { tab, until: Date.now() + TURN_MS } satisfies Turn })
  })
}
