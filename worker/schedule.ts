import type { FastifyBaseLogger } from 'fastify'
import type { JobName, JobQueue, Schedule } from '../server/queue.ts'

const MINUTE_MS = 60_000

/** What runs by the clock. The night is that of the company; what is due is asked per home, in its own zone. */
export function schedules(zone: string): Partial<Record<JobName, Schedule>> {
  return {
    'relay-messages': { every: MINUTE_MS },
    'notify-household': { every: 15 * MINUTE_MS },
    'plan-follow-ups': { pattern: '15 1 * * *', tz: zone },
    'read-bounces': { every: 5 * MINUTE_MS },
    'clean-up': { pattern: '45 3 * * *', tz: zone },
  }
}

/**
 * Sets the schedules, and sets them anew whenever the queue turns out to have been emptied: nothing else would ever ring
 * again. @returns stop
 */
export function keepSchedules(
  queue: Pick<JobQueue, 'schedule' | 'isScheduled'>,
  wanted: Partial<Record<JobName, Schedule>>,
  log: Pick<FastifyBaseLogger, 'warn'>,
  everyMs = MINUTE_MS,
): () => void {
  let isFirst = true
  const look = async () => {
    try {
      for (const [name, when] of Object.entries(wanted) as [JobName, Schedule][]) {
        // At the start always: another release may have set another time.
        if (isFirst || !(await queue.isScheduled(name))) await queue.schedule(name, when)
      }
      isFirst = false
    } catch (error) {
      log.warn({ err: error }, 'the schedules could not be set; tried again in a minute')
    }
  }
  void look()
  const timer = setInterval(() => void look(), everyMs)
  return () => clearInterval(timer)
}
