import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { idParams } from '../ids.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const one = { tags: ['customers'], params: idParams, response: { 200: schema.preferencesView } }

export const preferenceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/customers/:id/preferences', { schema: one }, (request) =>
    service.readPreferences(request.ctx, request.params.id),
  )

  app.put('/customers/:id/preferences', { schema: { ...one, body: schema.preferencesBody } }, (request) =>
    service.changePreferences(request.ctx, request.params.id, request.body),
  )
}
