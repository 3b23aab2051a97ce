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
    let write = writers.get(schema)
    if (!write) writers.set(schema, (write = writerOf(schema)))
    return write
  })
})

/** Many routes answer alike, and what is compiled depends on nothing else. */
const writers = new WeakMap<z.ZodType, (payload: unknown) => string>()

function writerOf(schema: z.ZodType): (payload: unknown) => string {
  const json = z.toJSONSchema(schema, { target: 'openapi-3.0', io: 'output', unrepresentable: 'any' })
  const write = fastJsonStringify(json as fastJsonStringify.Schema, { mode: undefined })
  return (payload) => write(payload)
}
