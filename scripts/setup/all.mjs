import { generateWhenStale } from '../generate.mjs'
import { checkNode, installPackagesWhenStale } from './packages.mjs'
import { installTools } from './tools.mjs'

/** Brings packages, the database client and, where they are wanted, the tools of the tests. Ends the process with one
 *  sentence that has the remedy where that cannot be done.
 *  @param {(text: string) => void} say hears what takes its time
 *  @param {{ tools: boolean }} wanted */
export async function setUp(say, { tools }) {
  try {
    checkNode()
    // Programs of the system come from elsewhere: they are fetched while npm works.
    const coming = tools ? installTools(say) : Promise.resolve()
    coming.catch(() => {})
    installPackagesWhenStale(say)
    generateWhenStale()
    await coming
  } catch (error) {
    process.stderr.write(`${error.message}\n`)
    process.exit(1)
  }
}
