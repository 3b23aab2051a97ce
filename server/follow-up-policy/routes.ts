import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['settings']

export const followUpPolicyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/follow-up-policy', { schema: { tags, response: { 200: schema.policyView } } }, (request) =>
    service.readPolicy(request.ctx),
  )

  app.post(
    '/follow-up-policy/preview',
    { schema: { tags, body: schema.previewBody, response: { 200: schema.previewView } } },
    (request) => service.previewPolicy(request.ctx, request.body.changes),
  )

  app.put(
    '/follow-up-policy',
    {
      schema: {
        tags,
        headers: ifMatchHeaders,
        body: schema.changePolicyBody,
        response: { 200: schema.policyView },
      },
    },
    (request) =>
      service.changePolicy(
        request.ctx,
        seenVersion(request.headers),
        request.body.changes,
        request.body.confirmMessages,
      ),
  )
}
