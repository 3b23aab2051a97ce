import { createHash } from 'node:crypto'
import type { FastifyRequest } from 'fastify'
import fp from 'fastify-plugin'
import type { BaseCtx } from '../ctx.ts'
import { Problem } from '../errors.ts'

interface ClaimedKey {
  userId: string
  key: string
}
declare module 'fastify' {
  interface FastifyRequest {
    claimedKey: ClaimedKey | null
  }
}

/** A call whose process died is taken for dead after this long, and its key may be used again. */
const GIVEN_UP_AFTER_MS = 60_000

/**
 * `Idempotency-Key` on any write: the first answer is kept and given again to the same call. The key is claimed before
 * the work, so that two at once cannot both do it; an answer of 5xx frees it.
 */
export const idempotency = fp<{ base: BaseCtx }>(async (app, { base: { db, now } }) => {
  app.decorateRequest('claimedKey', null)

  app.addHook('preHandler', async (request, reply) => {
    const key = keyOf(request)
    if (!key) return
    const requestHash = createHash('sha256')
      .update(
        JSON.stringify([
          request.method,
          request.url,
          Buffer.isBuffer(request.body) ? null : (request.body ?? null),
        ]),
      )
      .update(Buffer.isBuffer(request.body) ? request.body : '')
      .digest()
    const stale = new Date(now().getTime() - GIVEN_UP_AFTER_MS)
    await db.idempotencyKey.deleteMany({ where: { ...key, status: 0, createdAt: { lt: stale } } })
    const claimed = await db.idempotencyKey.createMany({
      data: { ...key, route: request.routeOptions.url ?? '', requestHash, status: 0, createdAt: now() },
      skipDuplicates: true,
    })
    if (claimed.count === 1) {
      request.claimedKey = key
      return
    }
    const kept = await db.idempotencyKey.findUnique({ where: { userId_key: key } })
    if (!kept || kept.status === 0) throw new Problem('still-in-progress', 'Wait a moment and send it again.')
    if (!requestHash.equals(kept.requestHash)) {
      throw new Problem(
        'key-reused',
        'Make a new key for each request; this one was sent with something else.',
      )
    }
    reply
      .header('idempotency-replayed', 'true')
      .header('content-type', contentTypeOf(kept.status))
      .status(kept.status)
    return reply.serializer(JSON.stringify).send(kept.body ?? undefined)
  })

  app.addHook('onSend', async (request, reply, payload) => {
    // Only what claimed the key settles it: a second call that came meanwhile must leave the first one's claim alone.
    const key = request.claimedKey
    if (!key) return payload
    request.claimedKey = null
    if (reply.statusCode >= 500 || reply.statusCode === 409) {
      await db.idempotencyKey.deleteMany({ where: { ...key, status: 0 } })
    } else {
      const body = typeof payload === 'string' && payload !== '' ? JSON.parse(payload) : undefined
      await db.idempotencyKey.updateMany({
        where: { ...key, status: 0 },
        data: { status: reply.statusCode, body },
      })
    }
    return payload
  })
})

const contentTypeOf = (status: number) =>
  `application/${status >= 400 ? 'problem+json' : 'json'}; charset=utf-8`

function keyOf(request: FastifyRequest): ClaimedKey | null {
  const key = request.headers['idempotency-key']
  if (request.method === 'GET' || typeof key !== 'string' || request.ctx?.actor.kind !== 'user') return null
  if (key.length < 8 || key.length > 100)
    throw new Problem('invalid-request', 'An Idempotency-Key has 8 to 100 letters.')
  return { userId: request.ctx.actor.id, key }
}
