import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { ifMatchHeaders, seenVersion } from '../versions.ts'
import * as schema from './schema.ts'
import * as service from './service.ts'

const tags = ['wordings']
const params = schema.letterParams

export const wordingRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/wordings', { schema: { tags, response: { 200: schema.wordingList } } }, (request) =>
    service.listWordings(request.ctx),
  )

  app.get(
    '/wordings/:kind/:language',
    { schema: { tags, params, response: { 200: schema.wordingView } } },
    (request) => service.readWording(request.ctx, request.params),
  )

  app.get(
    '/wordings/:kind/:language/versions/:version',
    { schema: { tags, params: schema.versionParams, response: { 200: schema.versionView } } },
    (request) => service.readVersion(request.ctx, request.params, request.params.version),
  )

  app.post(
    '/wordings/:kind/:language/preview',
    { schema: { tags, params, body: schema.showBody, response: { 200: schema.shownView } } },
    (request) => service.showWording(request.ctx, request.params, request.body),
  )

  app.put(
    '/wordings/:kind/:language',
    {
      schema: {
        tags,
        params,
        headers: ifMatchHeaders,
        body: schema.saveBody,
        response: { 200: schema.wordingView },
      },
    },
    (request) => service.saveWording(request.ctx, request.params, seenVersion(request.headers), request.body),
  )

  app.post(
    '/wordings/:kind/:language/revert',
    {
      schema: {
        tags,
        params,
        headers: ifMatchHeaders,
        body: schema.revertBody,
        response: { 200: schema.wordingView },
      },
    },
    (request) =>
      service.revertWording(request.ctx, request.params, seenVersion(request.headers), request.body),
  )

  app.post(
    '/wordings/:kind/:language/test',
    {
      // Each is an e-mail that leaves the house.
      config: { rateLimit: { max: 60, timeWindow: '1 minute' } },
      schema: { tags, params, body: schema.showBody, response: { 200: schema.testView } },
    },
    (request) => service.testWording(request.ctx, request.params, request.body),
  )
}
