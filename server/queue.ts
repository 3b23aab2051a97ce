/**
 * The contract with worker/: job names and payloads. Payloads carry ids only. The row in PostgreSQL says what is to be
 * done; the queue rings the bell, and a sweep rings it again.
 */
export interface Jobs {
  'send-message': { messageId: string }
  'relay-messages': Record<string, never>
  'plan-follow-ups': { propertyId?: string }
  'notify-household': { propertyId?: string }
  'clean-up': Record<string, never>
}
export type JobName = keyof Jobs

/** Never throws: with the queue away it logs and returns, and the sweep finds the rows. */
export type Enqueue = <Name extends JobName>(name: Name, payload: Jobs[Name]) => Promise<void>
