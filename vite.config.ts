import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { FIELD_ENTRY, filesOf, readBuildManifest } from './scripts/web-build/entry-files.ts'
import { fieldIcons } from './scripts/web-build/field-icons.ts'

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url))

const STARTS_WITH =
  /[\\/]node_modules[\\/](react|react-dom|scheduler)[\\/]|^\0?(vite[\\/]|rolldown[\\/]runtime)|web[\\/]shared[\\/](api[\\/]http|ids|format|severity|theme|ui[\\/]tokens)\.|trade[\\/](dates|visits|verdict)\.ts/
/** What the field sheet begins with besides, and what its later screens share with it. */
const FIELD_STARTS_WITH =
  /[\\/]node_modules[\\/]dexie|web[\\/]field[\\/](offline[\\/]|places|parts[\\/](go-to|top)|sync[\\/]sync-mark)|trade[\\/]inspection[\\/]recorded-twice/

// Two programs from one build: the office at /, the technician's field sheet at /field/. The field sheet is kept on the
// device by its service worker, /field/sw.js.
export default defineConfig({
  root: at('web'),
  publicDir: at('web/public'),
  plugins: [
    react(),
    fieldIcons(at('web/public/lamp.svg')),
    VitePWA({
      strategies: 'injectManifest',
      registerType: 'prompt',
      // web/field/new-version/ registers it; the manifest is web/public/field/manifest.webmanifest, for one page only.
      injectRegister: false,
      manifest: false,
      srcDir: 'field',
      filename: 'sw.ts',
      outDir: at('dist/web/field'),
      injectManifest: {
        globDirectory: at('dist/web'),
        globPatterns: ['field/index.html', 'field/manifest.webmanifest', 'lamp.svg', 'assets/*'],
        // Addresses in it count from the service worker's own unless they begin with a stroke.
        modifyURLPrefix: { '': '/' },
        dontCacheBustURLsMatching: /^\/assets\//,
        maximumFileSizeToCacheInBytes: 5_000_000,
        manifestTransforms: [
          (entries) => {
            const ours = filesOf(readBuildManifest(at('dist/web')), FIELD_ENTRY, 'ever')
            const isOurs = (url: string) => !url.startsWith('/assets/') || ours.has(url.slice(1))
            return { manifest: entries.filter(({ url }) => isOurs(url)), warnings: [] }
          },
        ],
      },
    }),
  ],
  build: {
    outDir: at('dist/web'),
    emptyOutDir: true,
    manifest: true,
    target: 'es2022',
    cssTarget: ['chrome111', 'firefox114', 'safari16.4'],
    sourcemap: false,
    rolldownOptions: {
      input: { office: at('web/index.html'), field: at('web/field/index.html') },
      output: {
        codeSplitting: {
          // What both programs begin with, in one file: a cold start pays for each file that it opens.
          groups: [
            { name: 'start', test: STARTS_WITH, includeDependenciesRecursively: false },
            { name: 'field-start', test: FIELD_STARTS_WITH, includeDependenciesRecursively: false },
          ],
        },
      },
    },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:3000', '/h': 'http://127.0.0.1:3000' } },
})
