/** Letters on top of those that go out anyway from which on somebody has to say their number first. */
const MANY = 100
/** Between the preview and the press a few may come or go. */
const SPARE = { least: 5, share: 0.05 }

/** The number that has to be said back; null = nothing out of the ordinary. */
export function numberToConfirm({ before, after }: { before: number; after: number }): number | null {
  return after - before > MANY ? after : null
}

/** Whoever says another number, also a larger one, has not read what would go out. */
export function isConfirmed(wanted: number | null, said: number | undefined): boolean {
  if (wanted === null) return true
  const spare = Math.max(SPARE.least, Math.floor(wanted * SPARE.share))
  return said !== undefined && Math.abs(said - wanted) <= spare
}
