import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import fastifyStatic from '@fastify/static'
import fp from 'fastify-plugin'

/** Vite's output: dist/web, seen from the sources and from the built server alike. */
const WEB_DIR = fileURLToPath(
  new URL(import.meta.url.includes('/dist/') ? '../web' : '../dist/web', import.meta.url),
)

/** Names in /assets carry a hash and never change; everything else is asked for again each time. */
const ASSETS_SECONDS = 365 * 86_400

/**
 * The two browser programs: the office at /, the field sheet at /field/. Any address of theirs that is not a file gives
 * their page, so that a link into the middle works; a missing asset stays a 404, never a page.
 */
export const webFiles = fp(async (app) => {
  if (!existsSync(WEB_DIR)) {
    app.log.warn('the web has not been built: npm run build')
    return
  }
  await app.register(fastifyStatic, {
    root: WEB_DIR,
    cacheControl: false,
    index: false,
    wildcard: false,
    setHeaders: (reply, path) => {
      const fixed = path.includes('/assets/')
      reply.header('cache-control', fixed ? `public, max-age=${ASSETS_SECONDS}, immutable` : 'no-cache')
    },
  })
  const page = (name: string) => async (_request: unknown, reply: { sendFile: (name: string) => unknown }) =>
    reply.sendFile(name)
  for (const url of OFFICE_PAGES) app.get(url, { schema: { hide: true } }, page('index.html'))
  for (const url of ['/field', '/field/*']) app.get(url, { schema: { hide: true } }, page('field/index.html'))
})

/** Addresses of the office's screens; web/office/routes.tsx has the same. */
const OFFICE_PAGES = [
  '/',
  '/log-in',
  '/welcome',
  '/forgotten-password',
  '/today',
  '/visits',
  '/visits/*',
  '/homes',
  '/homes/*',
  '/customers',
  '/customers/*',
  '/requests/*',
  '/due',
  '/estimates',
  '/estimates/*',
  '/messages',
  '/messages/*',
  '/prices',
  '/people',
  '/settings',
  '/settings/*',
  '/inspections/*',
  '/account',
  '/search',
]
