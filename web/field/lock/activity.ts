const KEY = 'field-active-at'
const EVERY_MS = 5000
let last = 0

/** When somebody last touched this app on this device, in any tab; null when nobody did yet. */
export function activeAt(): number | null {
  const stored = Number(localStorage.getItem(KEY))
  return stored > 0 ? stored : null
}

export function noteActivity(now = Date.now(), always = false): void {
  if (!always && Math.abs(now - last) < EVERY_MS) return
  last = now
  localStorage.setItem(KEY, String(now))
}
