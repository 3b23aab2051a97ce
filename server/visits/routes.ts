import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { sendJsonText } from '../json-text.ts'
import { dayInZone, timeInZone } from '../time.ts'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as booking from './booking.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'
import * as steps from './steps.ts'

const tags = ['visits']
const params = idParams
const headers = ifMatchHeaders
const response = { 200: schema.visitView }

const CSV: CsvColumns<schema.VisitRow> = {
  Day: (row) => dayInZone(new Date(row.startsAt), row.timeZone),
  'Window from': (row) => timeInZone(new Date(row.windowStartsAt), row.timeZone),
  'Window to': (row) => timeInZone(new Date(row.windowEndsAt), row.timeZone),
  Start: (row) => timeInZone(new Date(row.startsAt), row.timeZone),
  Minutes: (row) => row.lengthMinutes,
  'Time zone': (row) => row.timeZone,
  Kind: (row) => row.kind,
  State: (row) => row.state,
  Technician: (row) => row.technicianName,
  Customer: (row) => row.customerName,
  Phone: (row) => row.customerPhone,
  Address: (row) => row.line1,
  City: (row) => row.city,
  Postcode: (row) => row.postcode,
  Note: (row) => row.note,
  Id: (row) => row.id,
}

export const visitRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/visits',
    { schema: { tags, querystring: schema.visitListQuery, response: { 200: schema.visitPage } } },
    (request) => service.listVisits(request.ctx, request.query),
  )

  app.get(
    '/visits/export.csv',
    { schema: { tags, querystring: schema.visitExportQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'visits', CSV, service.everyVisit(request.ctx, request.query)),
  )

  app.get(
    '/visits/day',
    { schema: { tags, querystring: schema.dayQuery, response: { 200: schema.dayView } } },
    async (request, reply) => sendJsonText(reply, await service.readDay(request.ctx, request.query.day)),
  )

  app.get(
    '/my-day',
    { schema: { tags, querystring: schema.dayQuery, response: { 200: schema.myDayView } } },
    async (request, reply) => sendJsonText(reply, await service.readMyDay(request.ctx, request.query.day)),
  )

  app.get(
    '/visits/free-windows',
    { schema: { tags, querystring: schema.freeWindowsQuery, response: { 200: schema.freeWindowsView } } },
    (request) => service.findFreeWindows(request.ctx, request.query),
  )

  app.get('/visits/:id', { schema: { tags, params, response } }, (request) =>
    service.readVisit(request.ctx, request.params.id),
  )

  app.get(
    '/visits/:id/calendar.ics',
    { schema: { tags, params, produces: ['text/calendar'], response: { 200: z.string() } } },
    async (request, reply) => {
      const { method, text } = await service.readCalendar(request.ctx, request.params.id)
      return reply
        .header('content-type', `text/calendar; charset=utf-8; method=${method}`)
        .header('content-disposition', 'attachment; filename="visit.ics"')
        .serializer((payload) => payload as string)
        .send(text)
    },
  )

  app.post(
    '/visits',
    { schema: { tags, body: schema.bookVisitBody, response: { 201: schema.visitView } } },
    async (request, reply) => reply.status(201).send(await booking.bookVisit(request.ctx, request.body)),
  )

  app.patch(
    '/visits/:id',
    { schema: { tags, params, headers, body: schema.changeVisitBody, response } },
    (request) =>
      booking.changeVisit(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post(
    '/visits/:id/move',
    { schema: { tags, params, headers, body: schema.moveVisitBody, response } },
    (request) =>
      booking.moveVisit(request.ctx, request.params.id, seenVersion(request.headers), request.body),
  )

  app.post(
    '/visits/:id/reassign',
    { schema: { tags, params, headers, body: schema.reassignVisitBody, response } },
    (request) =>
      booking.reassignVisit(
        request.ctx,
        request.params.id,
        seenVersion(request.headers),
        request.body.technicianId,
      ),
  )

  const closing = { schema: { tags, params, body: schema.closeVisitBody, response } }
  app.post('/visits/:id/cancel', closing, (request) =>
    steps.cancelVisit(request.ctx, request.params.id, request.body.reason),
  )
  app.post('/visits/:id/no-access', closing, (request) =>
    steps.recordNoAccess(request.ctx, request.params.id, request.body.reason),
  )

  const step = { schema: { tags, params, response } }
  app.post('/visits/:id/start-travel', step, (request) => steps.startTravel(request.ctx, request.params.id))
  app.post('/visits/:id/arrive', step, (request) => steps.arrive(request.ctx, request.params.id))
  app.post('/visits/:id/finish', step, (request) => steps.finish(request.ctx, request.params.id))
}
