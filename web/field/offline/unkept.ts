let count = 0
const listeners = new Set<() => void>()
function put(next: number): void {
  count = next
  for (const listener of listeners) listener()
}

/** What was typed or tapped and does not lie in the store yet: while there is any, nothing may say that all is sent. */
export const unkept = {
  count: () => count,
  subscribe: (listener: () => void) => {
    listeners.add(listener)
    return () => listeners.delete(listener)
  },
  /** @returns how to say that it is kept, or given up */
  add: () => {
    put(count + 1)
    let isOver = false
    return () => {
      if (!isOver) put(count - 1)
      isOver = true
    }
  },
}
