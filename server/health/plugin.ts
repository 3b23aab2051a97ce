import { createHash, timingSafeEqual } from 'node:crypto'
import type { FastifyRequest } from 'fastify'
import fp from 'fastify-plugin'
import { Problem } from '../errors.ts'
import { httpSeconds, registry } from '../metrics.ts'
import { type Check, runChecks } from './checks.ts'

export interface HealthOptions {
  /** What must work for this process to take work, by name. */
  checks: Record<string, Check>
  /** True once the process has been told to leave. */
  isLeaving: () => boolean
  metricsToken?: string | undefined
}

const hidden = { schema: { hide: true }, config: { rateLimit: false }, logLevel: 'warn' } as const

/** Whether the process lives, whether it can take work, and its figures. For the API and the worker alike. */
export const healthRoutes = fp<HealthOptions>(async (app, { checks, isLeaving, metricsToken }) => {
  app.addHook('onResponse', async (request, reply) => {
    const route = request.routeOptions.url ?? 'none'
    if (route === '/healthz' || route === '/readyz' || route === '/metrics') return
    httpSeconds.observe({ method: request.method, route, status: reply.statusCode }, reply.elapsedTime / 1000)
  })

  app.get('/healthz', hidden, (_request, reply) => {
    void reply.header('cache-control', 'no-store')
    return { status: 'alive' }
  })

  app.get('/readyz', hidden, async (_request, reply) => {
    const answers = await runChecks(checks)
    if (isLeaving()) answers['process'] = 'leaving'
    const ready = Object.values(answers).every((answer) => answer === 'ok')
    return reply
      .status(ready ? 200 : 503)
      .header('cache-control', 'no-store')
      .send({ status: ready ? 'ready' : 'not ready', checks: answers })
  })

  app.get('/metrics', hidden, async (request, reply) => {
    if (!mayReadMetrics(request, metricsToken)) {
      throw new Problem(
        'not-allowed',
        'Metrics are for this machine, or for whoever sends the METRICS_TOKEN.',
      )
    }
    return reply
      .header('cache-control', 'no-store')
      .type(registry.contentType)
      .send(await registry.metrics())
  })
})

/** From this machine itself, or with the token. A request that a proxy passed on comes from elsewhere, even when the
 *  proxy runs here. */
function mayReadMetrics(request: FastifyRequest, token: string | undefined): boolean {
  const given = /^Bearer (.+)$/i.exec(request.headers.authorization ?? '')?.[1]
  if (given !== undefined) return token !== undefined && sameText(given, token)
  const isPassedOn = ['x-forwarded-for', 'forwarded', 'x-real-ip', 'via'].some(
    (name) => name in request.headers,
  )
  return !isPassedOn && /^(?:127\.|::1$|::ffff:127\.)/.test(request.socket.remoteAddress ?? '')
}

function sameText(one: string, other: string): boolean {
  const [a, b] = [one, other].map((text) => createHash('sha256').update(text).digest())
  return timingSafeEqual(a!, b!)
}
