import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../ids.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['reports']

export const reportRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/inspections/:id/report-preview',
    { schema: { tags, params: idParams, response: { 200: schema.previewView } } },
    (request) => service.previewReport(request.ctx, request.params.id),
  )

  app.post(
    '/inspections/:id/issue',
    { schema: { tags, params: idParams, body: schema.issueBody, response: { 201: schema.reportView } } },
    async (request, reply) =>
      reply.status(201).send(await service.issueReport(request.ctx, request.params.id, request.body)),
  )

  app.get(
    '/inspections/:id/reports',
    { schema: { tags, params: idParams, response: { 200: schema.reportList } } },
    (request) => service.listReports(request.ctx, request.params.id),
  )

  app.get(
    '/reports/:id',
    { schema: { tags, params: idParams, response: { 200: schema.reportView } } },
    (request) => service.readReport(request.ctx, request.params.id),
  )

  app.get(
    '/reports/:id/pdf',
    {
      schema: {
        tags,
        params: idParams,
        produces: ['application/pdf'],
        response: { 200: z.any().meta({ type: 'string', format: 'binary', description: 'PDF' }) },
      },
    },
    async (request, reply) => {
      const { pdf, name } = await service.readPdf(request.ctx, request.params.id)
      return reply
        .header('content-type', 'application/pdf')
        .header('content-disposition', `inline; filename="${name}"`)
        .header('cache-control', 'private, max-age=31536000, immutable')
        .send(pdf)
    },
  )
}
