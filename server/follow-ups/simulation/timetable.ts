/** What is to happen when, in order of time; at one moment in the order in which it was entered. A binary heap. */
export class Timetable<Entry> {
  readonly #heap: { at: number; nth: number; entry: Entry }[] = []
  #entered = 0

  add(at: number, entry: Entry): void {
    const heap = this.#heap
    heap.push({ at, nth: this.#entered++, entry })
    let index = heap.length - 1
    while (index > 0) {
      const parent = (index - 1) >> 1
      if (this.#isBefore(parent, index)) break
      this.#swap(parent, index)
      index = parent
    }
  }

  /** The earliest, taken out; null when nothing is left. */
  take(): { at: number; entry: Entry } | null {
    const heap = this.#heap
    const first = heap[0]
    if (!first) return null
    const last = heap.pop()!
    if (heap.length > 0) {
      heap[0] = last
      this.#sink()
    }
    return first
  }

  #sink(): void {
    let index = 0
    for (;;) {
      const left = 2 * index + 1
      if (left >= this.#heap.length) return
      const right = left + 1
      const child = right < this.#heap.length && this.#isBefore(right, left) ? right : left
      if (this.#isBefore(index, child)) return
      this.#swap(index, child)
      index = child
    }
  }

  #isBefore(a: number, b: number): boolean {
    const [one, two] = [this.#heap[a]!, this.#heap[b]!]
    return one.at < two.at || (one.at === two.at && one.nth < two.nth)
  }

  #swap(a: number, b: number): void {
    const heap = this.#heap
    ;[heap[a], heap[b]] = [heap[b]!, heap[a]!]
  }
}
