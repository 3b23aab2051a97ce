import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { moneyInWords } from '../../trade/estimates/money.ts'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { dayInZone } from '../time.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as changing from './changing.ts'
import { recordAnswer } from './recording.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['estimates']
const params = idParams
const headers = ifMatchHeaders
const response = { 200: schema.estimateView }

const CSV: CsvColumns<schema.EstimateRow> = {
  Number: (row) => row.number,
  State: (row) => row.state,
  Customer: (row) => row.customerName,
  Phone: (row) => row.customerPhone,
  Address: (row) => row.line1,
  City: (row) => row.city,
  'Total with tax': (row) => moneyInWords(row.totalCents),
  'Open until': (row) => row.expiresOn,
  Sent: (row) => row.sentAt && dayInZone(new Date(row.sentAt), row.timeZone),
  Decided: (row) => row.decidedAt && dayInZone(new Date(row.decidedAt), row.timeZone),
  Id: (row) => row.id,
}

export const estimateRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/estimates',
    { schema: { tags, querystring: schema.estimateListQuery, response: { 200: schema.estimatePage } } },
    (request) => service.listEstimates(request.ctx, request.query),
  )

  app.get(
    '/estimates/export.csv',
    { schema: { tags, querystring: schema.estimateExportQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'estimates', CSV, service.everyEstimate(request.ctx, request.query)),
  )

  app.get('/estimates/:id', { schema: { tags, params, response } }, (request) =>
    service.readEstimate(request.ctx, request.params.id),
  )

  app.post(
    '/estimates',
    { schema: { tags, body: schema.newEstimateBody, response: { 201: schema.estimateView } } },
    async (request, reply) => reply.status(201).send(await service.draftEstimate(request.ctx, request.body)),
  )

  app.patch(
    '/estimates/:id',
    { schema: { tags, params, headers, body: schema.changeEstimateBody, response } },
    (request) =>
      changing.changeEstimate(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post('/estimates/:id/send', { schema: { tags, params, headers, response } }, (request) =>
    changing.sendEstimate(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post(
    '/estimates/:id/answer',
    { schema: { tags, params, headers, body: schema.answerEstimateBody, response } },
    (request) => recordAnswer(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post('/estimates/:id/withdraw', { schema: { tags, params, headers, response } }, (request) =>
    changing.withdrawEstimate(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post(
    '/estimates/:id/copy',
    { schema: { tags, params, body: schema.copyEstimateBody, response: { 201: schema.estimateView } } },
    async (request, reply) =>
      reply.status(201).send(await service.copyEstimate(request.ctx, request.params.id, request.body.id)),
  )
}
