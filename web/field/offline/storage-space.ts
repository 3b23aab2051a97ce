import type { FieldStore } from './store.ts'

/** What this browser may hold for the app, in bytes. `isLasting`: it will not clear it by itself. */
export interface Space {
  used: number
  free: number
  isLasting: boolean
}
/** Above this part of what the browser allows, a person is told before it is too late. */
const TIGHT_PART = 0.8

/** Null where the browser does not tell: an old one, or a page without https. */
export async function spaceOnDevice(): Promise<Space | null> {
  const { usage, quota } = (await navigator.storage?.estimate?.().catch(() => null)) ?? {}
  if (usage === undefined || quota === undefined) return null
  const isLasting = (await navigator.storage.persisted?.().catch(() => false)) ?? false
  return { used: usage, free: Math.max(0, quota - usage), isLasting }
}

export function isTight({ used, free }: Space): boolean {
  return used > (used + free) * TIGHT_PART
}

/** Asks the browser not to clear what waits here when the disk gets full. Some browsers ask the person. */
export async function askToKeep(): Promise<boolean> {
  return (await navigator.storage?.persist?.().catch(() => false)) ?? false
}

/** After the first touch: browsers grant more to a page that somebody uses. */
export function askToKeepAtFirstTouch(): void {
  addEventListener('pointerdown', () => void askToKeep(), { once: true })
}

/** Whether an error, or what caused it, says that the disk or the browser's share of it is full. */
export function isDiskFull(error: unknown): boolean {
  for (let each = error, depth = 0; each instanceof Error && depth < 5; depth++) {
    if (each.name === 'QuotaExceededError' || /QuotaExceeded|disk (is )?full/i.test(each.message)) return true
    each = (each as { inner?: unknown }).inner ?? each.cause
  }
  return false
}

export async function isAllSent({ operations, steps, photos }: FieldStore): Promise<boolean> {
  const unsent = await Promise.all([
    operations.count(),
    steps.count(),
    photos.where('state').notEqual('sent').count(),
  ])
  return unsent.every((count) => count === 0)
}
