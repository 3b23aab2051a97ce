// npm run demo [-- --fresh]: a company that runs, from a clean clone with nothing but Node.js.
import { setUp } from './setup/all.mjs'

const say = (text) => process.stdout.write(`${text}\n`)

await setUp(say, { tools: false })

// From here on the packages are there, so the rest may be TypeScript; in this same process, which hears Ctrl-C once.
const { register } = await import('tsx/esm/api')
register()
await import('./demo/main.ts')
