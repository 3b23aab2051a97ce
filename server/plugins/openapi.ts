import swagger from '@fastify/swagger'
import scalar from '@scalar/fastify-api-reference'
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod'
import fp from 'fastify-plugin'

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
    transform: jsonSchemaTransform,
    transformObject: jsonSchemaTransformObject,
  })
  app.get('/api/openapi.json', { schema: { hide: true } }, () => app.swagger())
  await app.register(scalar, { routePrefix: '/api/docs', configuration: { url: '/api/openapi.json' } })
})
