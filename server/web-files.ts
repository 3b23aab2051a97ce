import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import fastifyStatic from '@fastify/static'
import type { FastifyReply } from 'fastify'
import fp from 'fastify-plugin'
import { keepAssets } from './web-assets.ts'

/** Vite's output: dist/web, seen from the sources and from the built server alike. */
const WEB_DIR = fileURLToPath(
  new URL(import.meta.url.includes('/dist/') ? '../web' : '../dist/web', import.meta.url),
)

/** Names in /assets carry a hash and never change; everything else is asked for again each time. */
const ASSETS_SECONDS = 365 * 86_400

/**
 * The two browser programs: the office at /, the field sheet at /field/. Any address of theirs that is not a file gives
 * their page, so that a link into the middle works; a missing file stays a 404, never a page.
 * @param options.dataDir where assets of earlier builds are kept for windows that still run them
 */
export const webFiles = fp<{ dataDir: string; now?: () => Date; webDir?: string }>(
  async (app, { dataDir, now = () => new Date(), webDir = WEB_DIR }) => {
    if (!existsSync(webDir)) {
      app.log.warn('the web has not been built: npm run build')
      return
    }
    const [assets, keptAssets] = [join(webDir, 'assets'), join(dataDir, 'web-assets')]
    const roots = await keepAssets(assets, keptAssets, now()).then(
      () => [assets, keptAssets],
      (error: unknown) => {
        app.log.warn({ err: error }, 'assets of this build could not be kept for windows left open')
        return [assets]
      },
    )
    await app.register(fastifyStatic, {
      root: webDir,
      globIgnore: ['assets/**'],
      cacheControl: false,
      index: false,
      wildcard: false,
      setHeaders: (reply) => void reply.header('cache-control', 'no-cache'),
    })
    await app.register(fastifyStatic, {
      root: roots,
      prefix: '/assets/',
      decorateReply: false,
      cacheControl: false,
      index: false,
      setHeaders: (reply) =>
        void reply.header('cache-control', `public, max-age=${ASSETS_SECONDS}, immutable`),
    })
    const page = (name: string) => async (_request: unknown, reply: FastifyReply) => reply.sendFile(name)
    for (const url of OFFICE_PAGES) app.get(url, { schema: { hide: true } }, page('index.html'))
    // The installed app is everything under /field/, with the stroke.
    app.get('/field', { schema: { hide: true } }, async (_request, reply) => reply.redirect('/field/', 308))
    app.get('/field/', { schema: { hide: true } }, page(FIELD_PAGE))
    app.get<{ Params: { '*': string } }>('/field/*', { schema: { hide: true } }, async (request, reply) =>
      FILE_NAME.test(request.params['*']) ? reply.callNotFound() : reply.sendFile(FIELD_PAGE),
    )
  },
)

const FIELD_PAGE = 'field/index.html'
/** Asked as a file, such as a script of an earlier build: a page in its place would be run as one. */
const FILE_NAME = /\.(js|mjs|css|map|json|webmanifest|html|png|svg|ico|woff2?)$/

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
