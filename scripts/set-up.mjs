// node scripts/set-up.mjs: packages, the database client and the tools of the tests, where they are missing or stale.
import { setUp } from './setup/all.mjs'

await setUp((text) => process.stdout.write(`${text}\n`), { tools: true })
