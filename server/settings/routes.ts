import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../ids.ts'
import { pageOf, pageQuery } from '../paging.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['settings']

export const settingsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/company', { schema: { tags, response: { 200: schema.companyView } } }, (request) =>
    service.readCompany(request.ctx),
  )

  app.patch(
    '/company',
    {
      schema: {
        tags,
        headers: ifMatchHeaders,
        body: schema.companyBody,
        response: { 200: schema.companyView },
      },
    },
    (request) => service.changeCompany(request.ctx, seenVersion(request.headers), request.body),
  )

  app.get(
    '/jurisdictions',
    { schema: { tags, response: { 200: z.array(schema.jurisdictionView) } } },
    (request) => service.listJurisdictions(request.ctx),
  )

  app.post(
    '/jurisdictions',
    { schema: { tags, body: schema.jurisdictionBody, response: { 201: schema.jurisdictionView } } },
    async (request, reply) =>
      reply.status(201).send(await service.addJurisdiction(request.ctx, request.body)),
  )

  app.get(
    '/jurisdictions/:id',
    { schema: { tags, params: idParams, response: { 200: schema.jurisdictionView } } },
    (request) => service.readJurisdiction(request.ctx, request.params.id),
  )

  app.patch(
    '/jurisdictions/:id',
    {
      schema: {
        tags,
        params: idParams,
        headers: ifMatchHeaders,
        body: schema.jurisdictionChange,
        response: { 200: schema.jurisdictionView },
      },
    },
    (request) =>
      service.changeJurisdiction(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.get(
    '/audit',
    {
      schema: {
        tags,
        querystring: z.strictObject({ ...schema.auditQuery, ...pageQuery }),
        response: { 200: pageOf(schema.auditView) },
      },
    },
    (request) => service.listAudit(request.ctx, request.query),
  )
}
