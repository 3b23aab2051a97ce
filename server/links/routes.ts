import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../ids.ts'
import * as office from './office.ts'
import * as schema from './schema.ts'

const tags = ['links']
const params = idParams

export const linkRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/customers/:id/links',
    { schema: { tags, params, response: { 200: z.array(schema.linkView) } } },
    (request) => office.listLinks(request.ctx, request.params.id),
  )

  app.post(
    '/customers/:id/links',
    { schema: { tags, params, body: schema.issueBody, response: { 201: schema.issuedView } } },
    async (request, reply) =>
      reply
        .status(201)
        .header('cache-control', 'no-store')
        .send(await office.issueLink(request.ctx, request.params.id, request.body)),
  )

  app.post(
    '/customers/:id/links/withdraw',
    { schema: { tags, params, body: schema.withdrawBody, response: { 200: schema.withdrawnView } } },
    (request) => office.withdrawLinks(request.ctx, request.params.id, request.body.propertyId),
  )

  app.post(
    '/links/:id/withdraw',
    { schema: { tags, params, response: { 200: schema.linkView } } },
    (request) => office.withdrawLink(request.ctx, request.params.id),
  )
}
