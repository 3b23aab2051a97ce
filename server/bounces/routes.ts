import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { Problem } from '../errors.ts'
import { liftBody, lifted, reportBody, unreachable } from './schema.ts'
import { liftAddress, listUnreachable, recordReport } from './service.ts'
import { faultOfCall } from './signature.ts'

// POST /webhooks/mail         what became of a letter, told by the mail server: signed (see signature.ts)
// GET  /messages/unreachable  addresses put aside and whose they are, for the office to phone
// POST /messages/unreachable/lift  writes to one of them again

export const bounceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/messages/unreachable',
    { schema: { tags: ['messages'], response: { 200: unreachable } } },
    (request) => listUnreachable(request.ctx),
  )

  app.post(
    '/messages/unreachable/lift',
    { schema: { tags: ['messages'], body: liftBody, response: { 200: lifted } } },
    (request) => liftAddress(request.ctx, request.body),
  )

  await app.register(async (signed) => {
    // The signature is over the bytes as they came.
    signed.removeContentTypeParser('application/json')
    signed.addContentTypeParser('application/json', { parseAs: 'buffer' }, (_request, body, done) =>
      done(null, body),
    )
    signed.post(
      '/webhooks/mail',
      {
        schema: { tags: ['messages'], response: { 200: z.object({ known: z.boolean() }) } },
        config: { rateLimit: { max: 600, timeWindow: '1 minute' } },
        bodyLimit: 65_536,
      },
      async (request) => {
        const { ctx, headers } = request
        const secret = ctx.env.bounceWebhookSecret
        if (!secret) throw new Problem('not-found', 'Set BOUNCE_WEBHOOK_SECRET to take such calls.')
        const body = Buffer.isBuffer(request.body) ? request.body : Buffer.alloc(0)
        const header = (name: string) => String(headers[`webhook-${name}`] ?? '')
        const call = {
          id: header('id'),
          timestamp: header('timestamp'),
          signature: header('signature'),
          body,
        }
        const fault = faultOfCall(secret, call, ctx.now())
        if (fault) throw new Problem('wrong-credentials', fault)
        const report = reportBody.safeParse(jsonOf(body))
        if (!report.success) throw new Problem('invalid-request', z.prettifyError(report.error))
        return { known: await recordReport(ctx, report.data) }
      },
    )
  })
}

function jsonOf(body: Buffer): unknown {
  try {
    return JSON.parse(body.toString('utf8'))
  } catch {
    throw new Problem('invalid-request', 'The body is not JSON.')
  }
}
