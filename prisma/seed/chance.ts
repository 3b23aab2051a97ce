/** Chance that comes out the same for the same seed, so that everybody's demo company is the same company. */
export interface Chance {
  /** 0 ≤ x < 1 */
  next: () => number
  /** A whole number from `min` to `max`, both included. */
  whole: (min: number, max: number) => number
  pick: <Item>(items: readonly Item[]) => Item
  /** True in so many of 100 cases. */
  percent: (share: number) => boolean
  /** A UUIDv7 for a record of that instant. */
  id: (at: Date) => string
}

/** mulberry32: small, even enough for made-up homes. */
export function makeChance(seed: number): Chance {
  let state = seed >>> 0
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
  const hex = (digits: number) =>
    Array.from({ length: digits }, () => Math.floor(next() * 16).toString(16)).join('')
  return {
    next,
    whole: (min, max) => min + Math.floor(next() * (max - min + 1)),
    pick: (items) => items[Math.floor(next() * items.length)]!,
    percent: (share) => next() * 100 < share,
    id: (at) => {
      const time = at.getTime().toString(16).padStart(12, '0')
      return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(3)}-${'89ab'[Math.floor(next() * 4)]}${hex(3)}-${hex(12)}`
    },
  }
}
