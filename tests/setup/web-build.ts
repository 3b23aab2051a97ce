import { buildWebWhenStale } from '../../scripts/build-web.ts'

/** The browser tests are served what people are served: the built pages, never older than their source. */
export async function setup(): Promise<void> {
  await buildWebWhenStale()
}
