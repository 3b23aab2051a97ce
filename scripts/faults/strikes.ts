import type { Mischief, Stage } from '../mail-sink/sink.ts'

/** A moment at which something dies. `at`: how many letters the mail server has taken by then. */
export interface Strike {
  at: number
  what: 'worker' | 'queue' | 'database' | { stage: Stage; mischief: Mischief }
}

const STAGES: readonly Stage[] = ['greeting', 'hello', 'from', 'to', 'data', 'body', 'answer']

/** Strikes spread at random over the work: 1 in 4 kills a worker, 1 in 5 empties the queue, 1 in 20 crashes the database, the
 *  others are the mail server's. Of those most drop the connection, and 1 in 3 after the letter was taken. */
export function planStrikes(kills: number, letters: number, chance: () => number): Strike[] {
  return Array.from({ length: kills }, () => ({
    at: Math.floor(chance() * letters * 0.97),
    what: whatOf(chance),
  })).sort((a, b) => a.at - b.at)
}

function whatOf(chance: () => number): Strike['what'] {
  const kind = chance()
  if (kind < 0.25) return 'worker'
  if (kind < 0.45) return 'queue'
  if (kind < 0.5) return 'database'
  const stage = chance() < 0.33 ? 'answer' : STAGES[Math.floor(chance() * STAGES.length)]!
  const manner = chance()
  const mischief = manner < 0.7 ? 'drop' : manner < 0.8 ? 'hang' : manner < 0.9 ? 'drip' : 'later'
  // Once it has taken a letter it cannot say that it did not.
  return { stage, mischief: stage === 'answer' && mischief === 'later' ? 'drop' : mischief }
}
