import { jobSeconds } from '../server/metrics.ts'
import type { Handlers, JobName } from '../server/queue.ts'
import { cleanUpJob } from './jobs/clean-up.ts'
import { notifyHouseholdJob } from './jobs/notify-household.ts'
import { planFollowUpsJob } from './jobs/plan-follow-ups.ts'
import { readBouncesJob } from './jobs/read-bounces.ts'
import { relayMessagesJob } from './jobs/relay-messages.ts'
import { sendMessageJob, sendWaitingJob } from './jobs/send-message.ts'
import type { Tools } from './tools.ts'

const JOBS: { [Name in JobName]: (tools: Tools, payload: unknown) => Promise<void> } = {
  'send-message': sendMessageJob,
  'send-waiting': sendWaitingJob,
  'relay-messages': relayMessagesJob,
  'plan-follow-ups': planFollowUpsJob,
  'notify-household': notifyHouseholdJob,
  'read-bounces': readBouncesJob,
  'clean-up': cleanUpJob,
}

/** Name → what to do. Every payload may have been written by last month's code; each job reads it for itself. */
export function makeHandlers(tools: Tools): Handlers {
  const entries = Object.entries(JOBS).map(([name, job]) => [
    name,
    async (payload: unknown) => {
      const end = jobSeconds.startTimer({ job: name })
      try {
        await job(tools, payload)
        end({ end: 'done' })
      } catch (error) {
        end({ end: 'failed' })
        throw error
      }
    },
  ])
  return Object.fromEntries(entries) as Handlers
}
