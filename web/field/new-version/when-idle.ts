const QUIET_MS = 3 * 60_000
const LOOK_EVERY_MS = 15_000
const SIGNS_OF_LIFE = ['pointerdown', 'keydown', 'input', 'scroll'] as const

/**
 * Calls `act` once nobody has touched the page for three minutes, or it is out of sight, and `may` agrees.
 * @returns how to stop waiting
 */
export function whenIdle(may: () => Promise<boolean>, act: () => void): () => void {
  let touchedAt = performance.now()
  const touch = () => (touchedAt = performance.now())
  const look = async () => {
    const isIdle = document.visibilityState === 'hidden' || performance.now() - touchedAt > QUIET_MS
    if (isIdle && (await may())) act()
  }
  const timer = setInterval(() => void look(), LOOK_EVERY_MS)
  const onHidden = () => void look()
  document.addEventListener('visibilitychange', onHidden)
  for (const sign of SIGNS_OF_LIFE) addEventListener(sign, touch, { passive: true, capture: true })
  return () => {
    clearInterval(timer)
    document.removeEventListener('visibilitychange', onHidden)
    for (const sign of SIGNS_OF_LIFE) removeEventListener(sign, touch, { capture: true })
  }
}
