import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { searchQuery, searchView } from './schema.ts'
import { search } from './service.ts'

export const searchRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/search',
    { schema: { tags: ['search'], querystring: searchQuery, response: { 200: searchView } } },
    (request) => search(request.ctx, request.query),
  )
}
