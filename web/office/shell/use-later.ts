import { useEffect, useState } from 'react'

/** A value as it was once typing paused. */
export function useLater<Value>(value: Value, ms: number): Value {
  const [later, setLater] = useState(value)
  const text = JSON.stringify(value)
  useEffect(() => {
    const timer = setTimeout(() => setLater(JSON.parse(text) as Value), ms)
    return () => clearTimeout(timer)
  }, [text, ms])
  return later
}
