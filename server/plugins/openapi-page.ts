import { createHash } from 'node:crypto'
import scalar from '@scalar/fastify-api-reference'
import type { FastifyPluginAsync } from 'fastify'

const INLINE_SCRIPT = /<script(?![^>]*\ssrc=)[^>]*>([\s\S]*?)<\/script>/g

/**
 * The page to read the OpenAPI document. Its one inline script is let through our content security policy by its hash;
 * fonts, telemetry and a proxy of the page's maker stay away: nothing on it calls another host.
 */
export const openapiPage: FastifyPluginAsync = async (app) => {
  app.addHook('onSend', async (_request, reply, payload) => {
    if (typeof payload !== 'string' || !String(reply.getHeader('content-type')).startsWith('text/html'))
      return
    const hashes = [...payload.matchAll(INLINE_SCRIPT)].map(
      ([, script]) => `'sha256-${createHash('sha256').update(script!).digest('base64')}'`,
    )
    const policy = String(reply.getHeader('content-security-policy'))
    reply.header(
      'content-security-policy',
      policy
        .replace("script-src 'self'", `script-src 'self' ${hashes.join(' ')}`)
        .replace("font-src 'self' https: data:", "font-src 'self' data:"),
    )
  })
  await app.register(scalar, {
    routePrefix: '/api/docs',
    configuration: {
      url: '/api/openapi.json',
      favicon: '/lamp.svg',
      withDefaultFonts: false,
      telemetry: false,
      hideClientButton: true,
      showDeveloperTools: 'never',
      agent: { disabled: true },
      mcp: { disabled: true },
    },
  })
}
