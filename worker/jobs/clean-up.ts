import { cleanUp } from '../../server/upkeep/service.ts'
import type { Tools } from '../tools.ts'

export async function cleanUpJob({ ctx }: Tools): Promise<void> {
  await cleanUp(ctx)
}
