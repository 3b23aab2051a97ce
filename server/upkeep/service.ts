import type { Ctx } from '../ctx.ts'
import { removeStale } from './store.ts'

export async function cleanUp(ctx: Ctx): Promise<void> {
  const count = await removeStale(ctx.db, ctx.now())
  ctx.log.info({ count }, 'stale keys, log-ins and uploads removed')
}
