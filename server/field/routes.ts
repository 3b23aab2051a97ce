import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { doneView } from '../accounts/schema.ts'
import { operationsBody, operationsResult } from './operation-schema.ts'
import { applyOperations } from './operations.ts'
import { readPack } from './pack.ts'
import { packQuery, packView } from './pack-schema.ts'
import { recordWiped, wipedBody } from './wiped.ts'

const tags = ['field']

/** Two hundred operations with long notes and drawn signatures. */
const MAX_BATCH_BYTES = 8 * 1024 * 1024

export const fieldRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/field/pack',
    { schema: { tags, querystring: packQuery, response: { 200: packView } } },
    (request) => readPack(request.ctx, request.query),
  )

  app.post(
    '/field/operations',
    {
      bodyLimit: MAX_BATCH_BYTES,
      schema: { tags, body: operationsBody, response: { 200: operationsResult } },
    },
    (request) => applyOperations(request.ctx, request.body),
  )

  app.post(
    '/field/wiped',
    {
      config: { rateLimit: { max: 20, timeWindow: '1 minute' } },
      schema: { tags, body: wipedBody, response: { 200: doneView } },
    },
    async (request) => {
      await recordWiped(request.ctx, request.cookies, request.body)
      return { done: true as const }
    },
  )
}
