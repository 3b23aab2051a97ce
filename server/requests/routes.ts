import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { idParams } from '../ids.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['requests']
const params = idParams
const headers = ifMatchHeaders
const response = { 200: schema.requestView }

export const requestRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/requests',
    { schema: { tags, querystring: schema.requestListQuery, response: { 200: schema.requestPage } } },
    (request) => service.listRequests(request.ctx, request.query),
  )

  app.get('/requests/:id', { schema: { tags, params, response } }, (request) =>
    service.readRequest(request.ctx, request.params.id),
  )

  app.post(
    '/requests',
    { schema: { tags, body: schema.takeRequestBody, response: { 201: schema.requestView } } },
    async (request, reply) => reply.status(201).send(await service.takeRequest(request.ctx, request.body)),
  )

  app.patch(
    '/requests/:id',
    { schema: { tags, params, headers, body: schema.changeRequestBody, response } },
    (request) =>
      service.changeRequest(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post(
    '/requests/:id/withdraw',
    { schema: { tags, params, headers, body: schema.withdrawRequestBody, response } },
    (request) =>
      service.withdrawRequest(
        request.ctx,
        request.params.id,
        seenVersion(request.headers),
        request.body.reason,
      ),
  )
}
