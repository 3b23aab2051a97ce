import fp from 'fastify-plugin'
import helmet from 'helmet'
import type { Env } from '../env.ts'

/** Put together once for all answers: the framework's wrapper around helmet does it for each of them. */
export const securityHeaders = fp<{ env: Env }>(async (app, { env }) => {
  const isHttps = env.publicUrl.startsWith('https:')
  const setHeaders = helmet({
    contentSecurityPolicy: {
      directives: {
        defaultSrc: ["'self'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'", "'unsafe-inline'"],
        imgSrc: ["'self'", 'data:', 'blob:'],
        connectSrc: ["'self'"],
        workerSrc: ["'self'"],
        manifestSrc: ["'self'"],
        objectSrc: ["'none'"],
        frameAncestors: ["'none'"],
        formAction: ["'self'"],
        upgradeInsecureRequests: isHttps ? [] : null,
      },
    },
    strictTransportSecurity: isHttps,
    referrerPolicy: { policy: 'no-referrer' },
  })
  app.addHook('onRequest', (request, reply, next) => {
    setHeaders(request.raw, reply.raw, (error) => next(error as Error | undefined))
  })
})
