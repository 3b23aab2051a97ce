import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

const at = (path: string) => fileURLToPath(new URL(path, import.meta.url))

// Two programs from one build: the office at /, the technician's field sheet at /field/.
export default defineConfig({
  root: at('web'),
  publicDir: at('web/public'),
  plugins: [react()],
  build: {
    outDir: at('dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: false,
    rollupOptions: { input: { office: at('web/index.html'), field: at('web/field/index.html') } },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:3000', '/h': 'http://127.0.0.1:3000' } },
})
