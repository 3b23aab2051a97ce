import swagger from '@fastify/swagger'
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod'
import fp from 'fastify-plugin'
import { PROBLEMS } from '../errors.ts'
import { openapiPage } from './openapi-page.ts'

/** OpenAPI 3.1 from the schemas that validate, at /api/openapi.json, and a page to read it at /api/docs. */
export const openapi = fp(async (app) => {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Watchlamp',
        version: '1',
        description:
          'Errors are RFC 9457 problem documents. Writes take an Idempotency-Key; changes need If-Match.',
        license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
      },
      servers: [{ url: '/' }],
      components: {
        securitySchemes: {
          session: { type: 'apiKey', in: 'cookie', name: 'watchlamp' },
          token: { type: 'http', scheme: 'bearer' },
        },
      },
      security: [{ session: [] }, { token: [] }],
    },
    transform: (route) => withProblems(jsonSchemaTransform(route)),
    transformObject: jsonSchemaTransformObject,
  })
  app.get('/api/openapi.json', { schema: { hide: true } }, () => app.swagger())
  await app.register(openapiPage)
})

/** RFC 9457, with our own members: which fields are at fault, and whatever else a problem tells. */
const PROBLEM_SCHEMA = {
  type: 'object',
  properties: {
    type: { type: 'string', enum: Object.keys(PROBLEMS).map((code) => `/problems/${code}`) },
    title: { type: 'string' },
    status: { type: 'integer', minimum: 400, maximum: 599 },
    detail: { type: 'string' },
    requestId: { type: 'string' },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        properties: { pointer: { type: 'string' }, detail: { type: 'string' } },
        required: ['pointer', 'detail'],
      },
    },
  },
  required: ['type', 'title', 'status', 'detail', 'requestId'],
}

/** Whatever a route answers besides what it promises is a problem document. */
function withProblems<Route extends ReturnType<typeof jsonSchemaTransform>>({ schema, url }: Route) {
  const { response, ...rest } = schema as typeof schema & { response?: object }
  const problem = {
    description: 'A problem document (RFC 9457): what is wrong, where, and what to do.',
    content: { 'application/problem+json': { schema: PROBLEM_SCHEMA } },
  }
  return { schema: { ...rest, response: { ...response, default: problem } }, url }
}
