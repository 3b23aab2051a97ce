import type { FieldStore } from '../offline/store.ts'
import { hashPin, isPin, type PinHash } from './pin.ts'

/** The lock of this device's screen. It covers what is shown; it encrypts nothing. */
export interface Lock extends PinHash {
  afterMinutes: number
  isLocked: boolean
  /** Wrong tries since the last right one, and when the next may be made, in ms since 1970. */
  wrong: number
  nextTryAt: number
}

export const MINUTES = [1, 5, 15, 60] as const
/** So many wrong tries, and only logging in at the office opens it. */
export const MOST_WRONG = 10
const FREE_TRIES = 3
const SECONDS = [5, 10, 20, 40, 60]

/** Seconds to wait after so many wrong tries in a row. */
export function waitAfter(wrong: number): number {
  if (wrong < FREE_TRIES) return 0
  return SECONDS[Math.min(wrong - FREE_TRIES, SECONDS.length - 1)]!
}

export const isSpent = ({ wrong }: Pick<Lock, 'wrong'>) => wrong >= MOST_WRONG

/** Away for so long that it locks. A clock that was put back does not keep it open. */
export function isAway(lock: Pick<Lock, 'afterMinutes'>, activeAt: number | null, now: number): boolean {
  if (activeAt === null) return true
  return now - activeAt >= lock.afterMinutes * 60_000 || now < activeAt - 60_000
}

export const readLock = (store: FieldStore) => store.setting<Lock>('lock')

export async function setLock(store: FieldStore, pin: string, afterMinutes: number): Promise<void> {
  const hash = await hashPin(pin)
  await store.settings.put({
    key: 'lock',
    value: { ...hash, afterMinutes, isLocked: false, wrong: 0, nextTryAt: 0 } satisfies Lock,
  })
}

export async function changeLock(store: FieldStore, change: Partial<Lock>): Promise<void> {
  await store.transaction('rw', store.settings, async () => {
    const lock = await readLock(store)
    if (lock) await store.settings.put({ key: 'lock', value: { ...lock, ...change } })
  })
}

export const removeLock = (store: FieldStore) => store.settings.delete('lock')

export type Tried = 'open' | 'wrong' | 'too-soon' | 'spent'

/** One try. It is counted before it is judged, so that closing the page does not win a free one. */
export async function tryPin(store: FieldStore, pin: string, now: number): Promise<Tried> {
  const lock = await store.transaction('rw', store.settings, async () => {
    const before = await readLock(store)
    if (!before || isSpent(before) || now < before.nextTryAt) return before
    const wrong = before.wrong + 1
    const counted = { ...before, wrong, nextTryAt: now + waitAfter(wrong) * 1000 }
    await store.settings.put({ key: 'lock', value: counted })
    return { ...counted, isCounted: true }
  })
  if (!lock) return 'open'
  if (!('isCounted' in lock)) return isSpent(lock) ? 'spent' : 'too-soon'
  if (await isPin(pin, lock)) {
    await changeLock(store, { isLocked: false, wrong: 0, nextTryAt: 0 })
    return 'open'
  }
  return isSpent(lock) ? 'spent' : 'wrong'
}
