/** How much faster than the wall the engine's clock runs: a lease of five minutes lasts fifteen seconds. Faster still, a
 *  busy machine would hold a worker up for longer than its lease, as none does for five minutes. */
export const HURRY = 20
/** What one letter may take at the mail server, in real time: two minutes of that clock. */
export const LETTER_MS = 120_000 / HURRY

/** @param startedAt milliseconds of the wall clock at which it was eight in the morning */
export function hurriedClock(startedAt: string): () => Date {
  const morning = Date.parse('2026-06-01T12:00:00Z')
  return () => new Date(morning + (Date.now() - Number(startedAt)) * HURRY)
}
