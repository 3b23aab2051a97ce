import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import * as actions from './actions.ts'
import * as booking from './booking-schema.ts'
import * as bulk from './bulk-booking.ts'
import * as schema from './schema.ts'
import { readDangers } from './service.ts'
import * as surge from './surge-event-schema.ts'
import { previewSurgeEvent, recordSurgeEvent } from './surge-event.ts'
import * as worklist from './worklist.ts'

const tags = ['follow-ups']
const one = { tags, params: idParams, response: { 200: schema.followUpView } }

const CSV: CsvColumns<schema.FollowUpSummary> = {
  Due: (row) => row.dueOn,
  'Days overdue': (row) => row.overdueDays,
  Kind: (row) => row.kindTitle,
  About: (row) => row.subject,
  State: (row) => row.state,
  'Office task': (row) => row.task,
  Street: (row) => row.line1,
  City: (row) => row.city,
  Postcode: (row) => row.postcode,
  Customer: (row) => row.customerName,
  Phone: (row) => row.customerPhone,
  'E-mail': (row) => row.customerEmail,
  Language: (row) => row.customerLanguage,
  'Messages sent': (row) => row.messagesSent,
  'Last call': (row) => row.lastCallAt,
  Why: (row) => row.reason,
  Ended: (row) => row.closedReason,
  Id: (row) => row.id,
}

export const followUpRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/follow-ups',
    { schema: { tags, querystring: schema.worklistQuery, response: { 200: schema.worklistPage } } },
    (request) => worklist.listWorklist(request.ctx, request.query),
  )

  app.get(
    '/follow-ups/export.csv',
    { schema: { tags, querystring: schema.worklistCsvQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'due', CSV, worklist.everyFollowUp(request.ctx, request.query)),
  )

  app.get(
    '/follow-ups/groups',
    { schema: { tags, querystring: schema.groupsQuery, response: { 200: z.array(schema.worklistGroup) } } },
    (request) => worklist.listGroups(request.ctx, request.query),
  )

  app.post(
    '/follow-ups/booking-plan',
    { schema: { tags, body: booking.bookingPlanBody, response: { 200: booking.bookingPlan } } },
    (request) => bulk.planBooking(request.ctx, request.body),
  )

  app.post(
    '/follow-ups/bulk-booking',
    { schema: { tags, body: booking.bulkBookingBody, response: { 201: booking.bulkBooked } } },
    async (request, reply) => reply.status(201).send(await bulk.bookMany(request.ctx, request.body)),
  )

  app.get('/follow-ups/numbers', { schema: { tags, response: { 200: schema.worklistNumbers } } }, (request) =>
    worklist.countWorklist(request.ctx),
  )

  app.get('/follow-ups/dangers', { schema: { tags, response: { 200: z.array(schema.danger) } } }, (request) =>
    readDangers(request.ctx),
  )

  app.post(
    '/follow-ups/bulk',
    { schema: { tags, body: schema.bulkBody, response: { 200: schema.bulkResult } } },
    (request) => actions.actOnMany(request.ctx, request.body),
  )

  app.post(
    '/follow-ups/messages-preview',
    { schema: { tags, body: schema.messagesPreviewBody, response: { 200: schema.messagesPreview } } },
    (request) => actions.previewMessages(request.ctx, request.body.ids),
  )

  app.post(
    '/follow-ups/surge-event',
    { schema: { tags, body: surge.surgeEventBody, response: { 200: surge.surgeEventResult } } },
    (request) => recordSurgeEvent(request.ctx, request.body),
  )

  app.post(
    '/follow-ups/surge-event/preview',
    { schema: { tags, body: surge.surgePreviewBody, response: { 200: surge.surgePreview } } },
    (request) => previewSurgeEvent(request.ctx, request.body),
  )

  app.get('/follow-ups/:id', { schema: one }, (request) =>
    worklist.readFollowUp(request.ctx, request.params.id),
  )

  app.get(
    '/follow-ups/:id/booking',
    { schema: { tags, params: idParams, response: { 200: schema.bookingView } } },
    (request) => worklist.readBooking(request.ctx, request.params.id),
  )

  app.post('/follow-ups/:id/dismiss', { schema: { ...one, body: schema.dismissBody } }, (request) =>
    actions.endFollowUp(request.ctx, request.params.id, 'dismissed', request.body.reason),
  )

  app.post('/follow-ups/:id/done', { schema: { ...one, body: schema.doneBody } }, (request) =>
    actions.endFollowUp(request.ctx, request.params.id, 'done', request.body.reason),
  )

  app.post('/follow-ups/:id/reopen', { schema: one }, (request) =>
    actions.reopenFollowUp(request.ctx, request.params.id),
  )

  app.post('/follow-ups/:id/snooze', { schema: { ...one, body: schema.snoozeBody } }, (request) =>
    actions.snoozeFollowUp(request.ctx, request.params.id, request.body.until),
  )

  app.post('/follow-ups/:id/call', { schema: { ...one, body: schema.callBody } }, (request) =>
    actions.logCall(request.ctx, request.params.id, request.body),
  )
}
