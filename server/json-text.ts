import type { FastifyReply } from 'fastify'

const asItIs = (payload: unknown) => payload as string

/**
 * Answers with JSON that PostgreSQL wrote. The statement names each column, so nothing leaks; parsing it here only to
 * write it again would cost the busiest screens more than the query does. Tests hold it to the response schema.
 */
export function sendJsonText(reply: FastifyReply, { json, version }: { json: string; version?: number }) {
  if (version !== undefined) reply.header('etag', `"${version}"`)
  return reply
    .header('content-type', 'application/json; charset=utf-8')
    .serializer(asItIs)
    .send(json as never)
}
