import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import { submitAnswer } from './answers.ts'
import { complete, reopen } from './completion.ts'
import { changeFinding, readFinding } from './findings.ts'
import * as record from './record-schema.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['inspections']

const CSV: CsvColumns<schema.InspectionSummary> = {
  Visit: (row) => row.visitStartsAt,
  State: (row) => row.state,
  Address: (row) => row.line1,
  City: (row) => row.city,
  Customer: (row) => row.customerName,
  Technician: (row) => row.technicianName,
  'Completed on': (row) => row.completedOn,
  Findings: (row) => row.findings,
  Unsafe: (row) => row.unsafe,
  'Report version': (row) => row.reportVersion,
  Id: (row) => row.id,
}

export const inspectionRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/inspections',
    { schema: { tags, querystring: schema.listQuery, response: { 200: schema.inspectionPage } } },
    (request) => service.listInspections(request.ctx, request.query),
  )

  app.get(
    '/inspections/export.csv',
    { schema: { tags, querystring: schema.csvQuery, ...csvResponse } },
    (request, reply) =>
      sendCsv(reply, 'inspections', CSV, service.everyInspection(request.ctx, request.query)),
  )

  app.post(
    '/inspections',
    { schema: { tags, body: schema.startBody, response: { 201: schema.inspectionView } } },
    async (request, reply) =>
      reply.status(201).send(await service.startInspection(request.ctx, request.body)),
  )

  app.get(
    '/inspections/:id',
    { schema: { tags, params: idParams, response: { 200: schema.inspectionView } } },
    (request) => service.readInspection(request.ctx, request.params.id),
  )

  app.get(
    '/inspections/:id/verdicts',
    { schema: { tags, params: idParams, response: { 200: schema.verdictsView } } },
    (request) => service.readVerdicts(request.ctx, request.params.id),
  )

  app.post(
    '/inspections/:id/answers',
    {
      schema: {
        tags,
        params: idParams,
        body: schema.submitAnswerBody,
        response: { 200: record.answerResult },
      },
    },
    (request) => submitAnswer(request.ctx, request.params.id, request.body),
  )

  app.post(
    '/inspections/:id/complete',
    {
      schema: {
        tags,
        params: idParams,
        body: schema.nothingBody,
        response: { 200: schema.completedView },
      },
    },
    (request) => complete(request.ctx, request.params.id),
  )

  app.post(
    '/inspections/:id/reopen',
    {
      schema: {
        tags,
        params: idParams,
        body: schema.nothingBody,
        response: { 200: schema.completedView },
      },
    },
    (request) => reopen(request.ctx, request.params.id),
  )

  app.get(
    '/findings/:id',
    { schema: { tags, params: idParams, response: { 200: record.findingView } } },
    (request) => readFinding(request.ctx, request.params.id),
  )

  app.patch(
    '/findings/:id',
    {
      schema: {
        tags,
        params: idParams,
        headers: ifMatchHeaders,
        body: schema.changeFindingBody,
        response: { 200: record.findingView },
      },
    },
    (request) => changeFinding(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )
}
