import fp from 'fastify-plugin'

/** A record with a version carries it as its ETag, to be sent back as If-Match. */
export const etag = fp(async (app) => {
  app.addHook('preSerialization', async (_request, reply, payload) => {
    const version = (payload as { version?: unknown } | null)?.version
    if (typeof version === 'number') reply.header('etag', `"${version}"`)
    return payload
  })
})
