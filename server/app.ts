import cookie from '@fastify/cookie'
import formbody from '@fastify/formbody'
import rateLimit from '@fastify/rate-limit'
import Fastify, { type FastifyInstance, type FastifyPluginAsync } from 'fastify'
import { bounceRoutes } from './bounces/routes.ts'
import { accountRoutes } from './accounts/routes.ts'
import type { BaseCtx } from './ctx.ts'
import { customerRoutes } from './customers/routes.ts'
import { preferenceRoutes } from './preferences/routes.ts'
import type { Changes } from './events/changes.ts'
import { Problem } from './errors.ts'
import { estimateRoutes } from './estimates/routes.ts'
import { eventRoutes } from './events/routes.ts'
import { fieldRoutes } from './field/routes.ts'
import { homeownerAnswerRoutes } from './homeowner/office-routes.ts'
import { homeownerRoutes } from './homeowner/routes.ts'
import { inspectionRoutes } from './inspections/routes.ts'
import { followUpPolicyRoutes } from './follow-up-policy/routes.ts'
import { followUpRoutes } from './follow-ups/routes.ts'
import { linkRoutes } from './links/routes.ts'
import { messageRoutes } from './messages/routes.ts'
import { peopleRoutes } from './people/routes.ts'
import { acting } from './plugins/acting.ts'
import { etag } from './plugins/etag.ts'
import { idempotency } from './plugins/idempotency.ts'
import { openapi } from './plugins/openapi.ts'
import { problems, sendProblem } from './plugins/problems.ts'
import { schemas } from './plugins/schemas.ts'
import { securityHeaders } from './plugins/security-headers.ts'
import { priceRoutes } from './prices/routes.ts'
import { propertyRoutes } from './properties/routes.ts'
import { photoRoutes } from './photos/routes.ts'
import { reportRoutes } from './reports/routes.ts'
import { requestRoutes } from './requests/routes.ts'
import { searchRoutes } from './search/routes.ts'
import { settingsRoutes } from './settings/routes.ts'
import { visitRoutes } from './visits/routes.ts'
import { wordingRoutes } from './wording/routes.ts'

/** Features of the API, each under /api/v1. */
const FEATURES: readonly FastifyPluginAsync[] = [
  accountRoutes,
  peopleRoutes,
  settingsRoutes,
  customerRoutes,
  preferenceRoutes,
  propertyRoutes,
  requestRoutes,
  visitRoutes,
  searchRoutes,
  inspectionRoutes,
  photoRoutes,
  reportRoutes,
  fieldRoutes,
  followUpRoutes,
  followUpPolicyRoutes,
  homeownerAnswerRoutes,
  linkRoutes,
  priceRoutes,
  estimateRoutes,
  messageRoutes,
  wordingRoutes,
  bounceRoutes,
]

/** The whole server, not listening: main.ts listens, tests inject. */
export async function buildApp(
  base: BaseCtx,
  changes: Changes,
  { requestsPerMinute = 1200 } = {},
): Promise<FastifyInstance> {
  const { env } = base
  const app = Fastify({
    loggerInstance: base.log,
    trustProxy: env.trustedProxies,
    bodyLimit: 1_048_576,
    // Nothing that a stranger sends may steer our ids in the log.
    requestIdHeader: false,
    genReqId: () => `req-${crypto.randomUUID().slice(0, 8)}`,
    routerOptions: { maxParamLength: 200 },
    // What no route ever sees: an address that is badly encoded, or far too long.
    frameworkErrors: (error, request, reply) => {
      void sendProblem(
        request,
        reply,
        new Problem('invalid-request', `The address cannot be read: ${error.message}.`),
      )
    },
  })
  await app.register(problems)
  await app.register(schemas)
  await app.register(cookie)
  await app.register(formbody)
  await app.register(securityHeaders, { env })
  await app.register(rateLimit, { max: requestsPerMinute, timeWindow: '1 minute', enableDraftSpec: true })
  await app.register(openapi)
  await app.register(acting, { base, changes })
  await app.register(idempotency, { base })
  await app.register(etag)
  for (const feature of FEATURES) await app.register(feature, { prefix: '/api/v1' })
  await app.register(eventRoutes, { prefix: '/api/v1', changes })
  await app.register(homeownerRoutes)
  return app
}
