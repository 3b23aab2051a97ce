import {
  type ConnectionOptions,
  createPostgresBackend,
  type Job,
  Queue,
  UnrecoverableError,
  Worker,
} from 'bullmq'
import type { FastifyBaseLogger } from 'fastify'
import type { Env } from './env.ts'

/**
 * The contract with worker/: job names and payloads. Payloads carry ids only. The row in PostgreSQL says what is to be
 * done; the queue rings the bell, and a sweep rings it again.
 */
export interface Jobs {
  'send-message': { messageId: string }
  /** As many of what waits as go in one round; the part tells the rounds of one sweep apart. */
  'send-waiting': { part: number }
  'relay-messages': Record<string, never>
  'plan-follow-ups': { propertyId?: string }
  'notify-household': { propertyId?: string }
  'read-bounces': Record<string, never>
  'clean-up': Record<string, never>
}
export type JobName = keyof Jobs

/** Never throws: with the queue away it logs and returns, and the sweep finds the rows. */
export type Enqueue = <Name extends JobName>(name: Name, payload: Jobs[Name]) => Promise<void>

/** What a job is called in the queue: rung twice while it waits, it is one job. Forgotten as soon as it is done. */
export function jobId<Name extends JobName>(name: Name, payload: Jobs[Name]): string {
  const subject =
    'messageId' in payload
      ? payload.messageId
      : 'propertyId' in payload
        ? payload.propertyId
        : 'part' in payload
          ? payload.part
          : undefined
  return subject !== undefined ? `${name}-${subject}` : name
}

const QUEUE = 'watchlamp'
const OPTIONS = { attempts: 1, removeOnComplete: true, removeOnFail: true }
/** Letters give way to the few jobs that find out what is due, and many to the one that somebody waits for. 0 is served
 *  first. */
const PRIORITY: Partial<Record<JobName, number>> = { 'send-message': 10, 'send-waiting': 20 }

type Settings = Pick<Env, 'databaseUrl' | 'redisUrl'>
type Log = Pick<FastifyBaseLogger, 'warn' | 'error' | 'info'>

/** Where the queue lives: Redis when there is one, else PostgreSQL, whose tables for it are made at the first use. */
function store(env: Settings, forWorker: boolean) {
  if (env.redisUrl) {
    const connection: ConnectionOptions = forWorker
      ? { url: env.redisUrl, maxRetriesPerRequest: null }
      : { url: env.redisUrl, maxRetriesPerRequest: 1, enableOfflineQueue: false }
    return { options: { connection, prefix: '{watchlamp}' }, backend: undefined }
  }
  const connection = {
    connectionString: env.databaseUrl,
    migrate: true,
    max: 3,
    application_name: 'watchlamp queue',
  }
  // BullMQ's types tie the options to the backend; here either may come.
  return {
    options: { connection: connection as ConnectionOptions },
    backend: createPostgresBackend as unknown as undefined,
  }
}

function makeQueue(env: Settings, log: Log): Queue {
  const { options, backend } = store(env, false)
  const queue = new Queue(QUEUE, options, backend)
  queue.on('error', (error) =>
    log.warn({ err: error }, 'the queue is away; what is waiting is found again by the sweep'),
  )
  return queue
}

/** Milliseconds between two runs, or the five fields of cron on the wall of a zone. */
export type Schedule = { every: number } | { pattern: string; tz: string }

export interface JobQueue {
  enqueue: Enqueue
  /** Many of one name at once. @returns how many were taken; 0 with the queue away */
  enqueueMany: <Name extends JobName>(name: Name, payloads: readonly Jobs[Name][]) => Promise<number>
  /** Repeats a job for ever, in one place however many workers ask. @throws when the queue is away */
  schedule: (name: JobName, when: Schedule) => Promise<void>
  /** False after the queue was emptied. @throws when the queue is away */
  isScheduled: (name: JobName) => Promise<boolean>
  /** Jobs by state, for the metrics. */
  counts: () => Promise<Record<string, number>>
  close: () => Promise<void>
}

/** How long a caller waits for a queue that does not answer. */
const PATIENCE_MS = 2_000

/** The ringing side of the queue. Connects at the first use, and anew after a failed start. */
export function makeJobQueue(env: Settings, log: Log): JobQueue {
  let queue: Queue | null = null
  let ready: Promise<unknown> | null = null

  async function use<Result>(what: (queue: Queue) => Promise<Result>): Promise<Result> {
    queue ??= makeQueue(env, log)
    const mine = queue
    ready ??= mine.waitUntilReady()
    try {
      await patiently(ready)
      return await patiently(what(mine))
    } catch (error) {
      // BullMQ remembers a failed start; a later call begins with a new one.
      if (queue === mine && (await isFailed(ready))) {
        queue = ready = null
        mine.close().catch(() => {})
      }
      throw error
    }
  }

  async function enqueueMany<Name extends JobName>(
    name: Name,
    payloads: readonly Jobs[Name][],
  ): Promise<number> {
    if (payloads.length === 0) return 0
    const jobs = payloads.map((payload) => ({
      name,
      data: payload,
      opts: { ...OPTIONS, jobId: jobId(name, payload), priority: PRIORITY[name] },
    }))
    try {
      return (await use((each) => each.addBulk(jobs))).length
    } catch (error) {
      log.warn({ err: error, job: name, count: jobs.length }, 'could not ring the queue; the sweep will')
      return 0
    }
  }

  return {
    enqueueMany,
    enqueue: async (name, payload) => void (await enqueueMany(name, [payload])),
    schedule: async (name, when) => {
      const repeat = 'every' in when ? { every: when.every } : { pattern: when.pattern, tz: when.tz }
      await use((each) => each.upsertJobScheduler(`every-${name}`, repeat, { name, data: {}, opts: OPTIONS }))
    },
    isScheduled: async (name) => (await use((each) => each.getJobScheduler(`every-${name}`))) != null,
    counts: () => use((each) => each.getJobCounts()),
    close: async () => {
      const open = queue
      queue = ready = null
      await open?.close()
    },
  }
}

function patiently<Result>(work: Promise<Result>): Promise<Result> {
  let timer: NodeJS.Timeout | undefined
  const tooLong = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new Error(`the queue gave no answer in ${PATIENCE_MS} ms`)), PATIENCE_MS)
  })
  work.catch(() => {})
  return Promise.race([work, tooLong]).finally(() => clearTimeout(timer))
}

const isFailed = (started: Promise<unknown> | null) =>
  Promise.race([
    Promise.resolve(started).then(
      () => false,
      () => true,
    ),
    Promise.resolve(false).then(() => false),
  ])

export type Handlers = { [Name in JobName]: (payload: unknown) => Promise<void> }

/** The working side. A job whose handler throws is logged and forgotten: its row still says what is to be done. */
export function makeWorker(env: Settings, log: Log, handlers: Handlers, concurrency = 10) {
  const { options, backend } = store(env, true)
  const worker = new Worker(
    QUEUE,
    async (job: Job) => {
      const handler = handlers[job.name as JobName]
      // Left by another release: not an error of this one.
      if (!handler) throw new UnrecoverableError(`no handler for a job named ${job.name}`)
      await handler(job.data)
    },
    { ...options, concurrency, lockDuration: 60_000, maxStalledCount: 3, autorun: false },
    backend,
  )
  worker.on('error', (error) => log.warn({ err: error }, 'the queue is away'))
  worker.on('failed', (job, error) =>
    log.error({ err: error, job: job?.name, payload: job?.data }, 'a job failed'),
  )
  return {
    run: () => {
      worker.run().catch((error) => log.error({ err: error }, 'the worker stopped taking jobs'))
    },
    ready: () => worker.waitUntilReady(),
    /** Takes nothing more, waits for what is in hand. */
    close: () => worker.close(),
  }
}
