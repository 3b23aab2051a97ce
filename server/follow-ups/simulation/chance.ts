/** Chance that can be repeated: the same seed gives the same throws, on every machine. */
export interface Chance {
  /** From 0 up to, not including, 1. */
  next(): number
  is(probability: number): boolean
  /** Whole, both ends included. */
  between(least: number, most: number): number
  pick<Item>(items: readonly Item[]): Item
}

/** The 32-bit generator known as mulberry32: enough for a made-up company, nothing for secrets. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296
  }
  const between = (least: number, most: number) => least + Math.floor(next() * (most - least + 1))
  return {
    next,
    is: (probability) => next() < probability,
    between,
    pick: (items) => items[between(0, items.length - 1)]!,
  }
}
