import closeWithGrace from 'close-with-grace'
import type { FastifyBaseLogger } from 'fastify'

/** Longest that a process may take to leave: below the 30 s after which a container is usually killed. */
const PATIENCE_MS = 20_000

export interface Leaving {
  /** True once the process has been told to leave: /readyz says so, and nothing new is begun. */
  isLeaving: () => boolean
  /** Leaves as on SIGTERM. */
  leave: () => void
}

/** On SIGTERM, SIGINT or an error that nobody caught: runs the steps in order (stop taking work, finish what is in hand,
 *  close connections), each even when one before it failed, and ends within 20 s.
 *  Exit code 0 after a signal, 1 after an error or when time ran out. */
export function leaveGracefully(
  log: FastifyBaseLogger,
  steps: Record<string, () => Promise<unknown>>,
): Leaving {
  let leaving = false
  const { close } = closeWithGrace(
    {
      delay: PATIENCE_MS,
      logger: false,
      onTimeout: () => log.fatal(`still busy after ${PATIENCE_MS / 1000} s: leaving as it is`),
      onSecondSignal: (signal) => log.warn(`${signal} again: leaving at once`),
    },
    async ({ signal, err }) => {
      leaving = true
      if (err) log.fatal({ err }, 'an error that nobody caught: leaving')
      else log.info(`${signal ?? 'asked to stop'}: finishing what is in hand`)
      let failure: unknown = err
      for (const [name, step] of Object.entries(steps)) {
        try {
          await step()
        } catch (error) {
          log.error({ err: error }, `while leaving: ${name}`)
          failure ??= error
        }
      }
      if (failure) throw failure
      log.info('left in order')
    },
  )
  return { isLeaving: () => leaving, leave: close }
}
