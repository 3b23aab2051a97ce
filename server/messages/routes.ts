import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { csvResponse, type CsvColumns, sendCsv } from '../csv.ts'
import { idParams } from '../ids.ts'
import { readAgain } from './again.ts'
import * as service from './office.ts'
import * as schema from './schema.ts'

const tags = ['messages']
const one = { tags, params: idParams, response: { 200: schema.messageView } }

const CSV: CsvColumns<schema.MessageSummary> = {
  Planned: (row) => row.createdAt,
  Kind: (row) => row.kind,
  State: (row) => schema.MESSAGE_STATES[row.state],
  To: (row) => row.toName,
  Address: (row) => row.toAddress,
  Subject: (row) => row.subject,
  Home: (row) => row.propertyLine,
  Why: (row) => row.reason,
  Sent: (row) => row.sentAt,
  'Page opened': (row) => row.openedPageAt,
  Answered: (row) => row.actedAt,
  Trouble: (row) => row.lastError,
  Id: (row) => row.id,
}

export const messageRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/messages',
    { schema: { tags, querystring: schema.messageListQuery, response: { 200: schema.messagePage } } },
    (request) => service.listMessages(request.ctx, request.query),
  )

  app.get(
    '/messages/export.csv',
    { schema: { tags, querystring: schema.messageCsvQuery, ...csvResponse } },
    (request, reply) => sendCsv(reply, 'messages', CSV, service.everyMessage(request.ctx, request.query)),
  )

  app.get('/messages/numbers', { schema: { tags, response: { 200: schema.messageNumbers } } }, (request) =>
    service.countMessages(request.ctx),
  )

  app.get('/messages/templates', { schema: { tags, response: { 200: schema.templateList } } }, () =>
    service.listTemplates(),
  )

  app.get(
    '/messages/templates/:kind',
    {
      schema: {
        tags,
        params: schema.kindParams,
        querystring: schema.previewQuery,
        response: { 200: schema.preview },
      },
    },
    (request) => service.previewTemplate(request.ctx, request.params.kind, request.query.language),
  )

  app.get('/messages/:id', { schema: one }, (request) => service.readMessage(request.ctx, request.params.id))

  app.post('/messages/:id/resend', { schema: one }, (request) =>
    service.resendMessage(request.ctx, request.params.id),
  )

  app.get(
    '/messages/:id/again',
    { schema: { tags, params: idParams, response: { 200: schema.againView } } },
    (request) => readAgain(request.ctx, request.params.id),
  )

  app.post(
    '/messages/:id/again',
    { schema: { tags, params: idParams, body: schema.againBody, response: { 201: schema.messageView } } },
    async (request, reply) =>
      reply.status(201).send(await service.sendMessageAgain(request.ctx, request.params.id, request.body)),
  )

  app.post('/messages/:id/cancel', { schema: one }, (request) =>
    service.cancelMessage(request.ctx, request.params.id),
  )
}
