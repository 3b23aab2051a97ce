import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { moneyInWords, typedPercent } from '../../trade/estimates/money.ts'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['prices']
const params = idParams
const headers = ifMatchHeaders
const response = { 200: schema.priceView }

const CSV: CsvColumns<schema.PriceView> = {
  Code: (row) => row.code,
  Name: (row) => row.name,
  Description: (row) => row.description,
  Unit: (row) => row.unit,
  Price: (row) => moneyInWords(row.priceCents),
  'Tax in per cent': (row) => typedPercent(row.taxBasisPoints),
  Corrects: (row) => row.correctsItems.join('; '),
  Retired: (row) => row.retiredAt !== null,
  Id: (row) => row.id,
}

export const priceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/prices',
    { schema: { tags, querystring: schema.priceListQuery, response: { 200: schema.pricePage } } },
    (request) => service.listPrices(request.ctx, request.query),
  )

  app.get(
    '/prices/export.csv',
    { schema: { tags, querystring: schema.priceExportQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'prices', CSV, service.everyPrice(request.ctx, request.query)),
  )

  app.get('/prices/:id', { schema: { tags, params, response } }, (request) =>
    service.readPrice(request.ctx, request.params.id),
  )

  app.post(
    '/prices',
    { schema: { tags, body: schema.newPriceBody, response: { 201: schema.priceView } } },
    async (request, reply) => reply.status(201).send(await service.addPrice(request.ctx, request.body)),
  )

  app.patch(
    '/prices/:id',
    { schema: { tags, params, headers, body: schema.changePriceBody, response } },
    (request) =>
      service.changePrice(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post('/prices/:id/retire', { schema: { tags, params, headers, response } }, (request) =>
    service.retirePrice(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post('/prices/:id/restore', { schema: { tags, params, headers, response } }, (request) =>
    service.restorePrice(request.ctx, request.params.id, seenVersion(request.headers)),
  )
}
