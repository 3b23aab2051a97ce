import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['customers']
const changed = { tags, params: idParams, headers: ifMatchHeaders, response: { 200: schema.customerRecord } }

const CSV: CsvColumns<schema.CustomerRow> = {
  Name: (row) => row.name,
  Kind: (row) => row.kind,
  'E-mail': (row) => row.email,
  Phone: (row) => row.phone,
  Homes: (row) => row.homes,
  Address: (row) => row.address,
  'Customer since': (row) => row.createdAt.slice(0, 10),
  Archived: (row) => row.archivedAt !== null,
  Id: (row) => row.id,
}

export const customerRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/customers',
    { schema: { tags, querystring: schema.customerListQuery, response: { 200: schema.customerPage } } },
    (request) => service.listCustomers(request.ctx, request.query),
  )

  app.get(
    '/customers/export.csv',
    { schema: { tags, querystring: schema.customerExportQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'customers', CSV, service.everyCustomer(request.ctx, request.query)),
  )

  app.get(
    '/customers/duplicates',
    { schema: { tags, querystring: schema.duplicatesQuery, response: { 200: schema.duplicatesView } } },
    (request) => service.findDuplicates(request.ctx, request.query),
  )

  app.get(
    '/customers/:id',
    { schema: { tags, params: idParams, response: { 200: schema.customerView } } },
    (request) => service.readCustomer(request.ctx, request.params.id),
  )

  app.post(
    '/customers',
    { schema: { tags, body: schema.newCustomerBody, response: { 201: schema.customerRecord } } },
    async (request, reply) => reply.status(201).send(await service.addCustomer(request.ctx, request.body)),
  )

  app.patch('/customers/:id', { schema: { ...changed, body: schema.changeCustomerBody } }, (request) =>
    service.changeCustomer(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post('/customers/:id/archive', { schema: changed }, (request) =>
    service.archiveCustomer(request.ctx, request.params.id, seenVersion(request.headers)),
  )

  app.post('/customers/:id/restore', { schema: changed }, (request) =>
    service.restoreCustomer(request.ctx, request.params.id, seenVersion(request.headers)),
  )
}
