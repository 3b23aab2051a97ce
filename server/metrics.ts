import { collectDefaultMetrics, Counter, Gauge, Histogram, Registry } from 'prom-client'

// The figures of one process, for /metrics. Prometheus names: the unit is in the name, seconds and bytes.

export const registry = new Registry()

collectDefaultMetrics({ register: registry })

/** Every answer, by route pattern: an id in a label would make a series per record. */
export const httpSeconds = new Histogram({
  name: 'watchlamp_http_request_duration_seconds',
  help: 'Time from the first byte of a request to the last of its answer.',
  labelNames: ['method', 'route', 'status'],
  buckets: [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10],
  registers: [registry],
})

export const jobSeconds = new Histogram({
  name: 'watchlamp_job_duration_seconds',
  help: 'Time a job took, by its name and how it ended (done or failed).',
  labelNames: ['job', 'end'],
  buckets: [0.01, 0.05, 0.1, 0.5, 1, 5, 15, 60],
  registers: [registry],
})

export const messagesSent = new Counter({
  name: 'watchlamp_messages_sent_total',
  help: 'Messages that the mail server took.',
  registers: [registry],
})

export const messagesFailed = new Counter({
  name: 'watchlamp_messages_failed_total',
  help: 'Attempts to send a message that did not succeed; each is tried again.',
  registers: [registry],
})

type Depth = () => Promise<Record<string, number>>
let queueDepth: Depth | null = null

/** Says how the queue's depth is found: jobs by state (waiting, active, delayed, failed). Asked at each scrape. */
export function watchQueue(depth: Depth | null): void {
  queueDepth = depth
}

export const queueJobs = new Gauge({
  name: 'watchlamp_queue_jobs',
  help: 'Jobs in the queue, by state.',
  labelNames: ['state'],
  registers: [registry],
  async collect() {
    this.reset()
    // A queue that is away must not take the other figures with it: its own simply go missing.
    const counts = await queueDepth?.().catch(() => null)
    for (const [state, count] of Object.entries(counts ?? {})) this.set({ state }, count)
  },
})
