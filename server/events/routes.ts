import type { FastifyPluginAsync } from 'fastify'
import { theUser } from '../accounts/service.ts'
import { isOffice } from '../../trade/permissions.ts'
import type { Changes } from './changes.ts'

const PING_MS = 15_000
/** Long enough to be useful, short enough that a revoked session does not listen on for ever. */
const OPEN_FOR_MS = 10 * 60_000

/** Server-sent events: which records changed. Ids only; the screen asks again for what it shows. */
export const eventRoutes: FastifyPluginAsync<{ changes: Changes }> = async (app, { changes }) => {
  const open = new Set<() => void>()
  app.addHook('preClose', async () => {
    for (const end of open) end()
  })

  app.get(
    '/events',
    { schema: { tags: ['events'], description: 'text/event-stream of { record, ids }' } },
    (request, reply) => {
      const user = theUser(request.ctx)
      reply.hijack()
      reply.raw.writeHead(200, {
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store, no-transform',
        'x-accel-buffering': 'no',
        connection: 'keep-alive',
      })
      reply.raw.write('retry: 3000\n\n')
      const stop = changes.subscribe((change) => {
        // A technician is told that something moved, not whose.
        const told = isOffice(user) ? change : { record: change.record, ids: null }
        reply.raw.write(`data: ${JSON.stringify(told)}\n\n`)
      })
      const ping = setInterval(() => reply.raw.write(': ping\n\n'), PING_MS)
      const limit = setTimeout(() => end(), OPEN_FOR_MS)
      const end = () => {
        stop()
        clearInterval(ping)
        clearTimeout(limit)
        open.delete(end)
        reply.raw.end()
      }
      open.add(end)
      request.raw.on('close', end)
    },
  )
}
