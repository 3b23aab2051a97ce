/** A function that answers each argument once and remembers the answer: for one round of work, or for what cannot change. */
export function remembered<Value>(answer: (key: string) => Value): (key: string) => Value {
  const known = new Map<string, Value>()
  return (key) => {
    const value = known.get(key)
    if (value !== undefined) return value
    const found = answer(key)
    known.set(key, found)
    return found
  }
}
