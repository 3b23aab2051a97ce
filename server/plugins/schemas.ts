import fastJsonStringify from 'fast-json-stringify'
import type { FastifyInstance } from 'fastify'
import { validatorCompiler } from 'fastify-type-provider-zod'
import fp from 'fastify-plugin'
import { z } from 'zod'

/**
 * Zod validates what comes in. What goes out is written by a serializer compiled from the same schemas: fields that
 * the schema does not name never leave, and long lists cost no second validation.
 */
export const schemas = fp(async (app: FastifyInstance) => {
  app.setValidatorCompiler(validatorCompiler)
  app.setSerializerCompiler(({ schema }) => {
    if (!(schema instanceof z.ZodType)) return JSON.stringify
    const json = z.toJSONSchema(schema, { target: 'openapi-3.0', io: 'output', unrepresentable: 'any' })
    const write = fastJsonStringify(json as fastJsonStringify.Schema, { mode: undefined })
    return (payload) => write(payload)
  })
})
