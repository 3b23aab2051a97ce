import type { Equipment } from '../../trade/equipment.ts'
import { datesByInterval } from '../../trade/follow-ups/equipment-dates.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'
import type { Ctx } from '../ctx.ts'
import { getPolicy } from './policy.ts'
import * as store from './redate-store.ts'

/** Devices looked at in one transaction. */
const AT_ONCE = 2000

/** What of the policy the dates beside devices were worked out with. */
export const intervalsOf = ({ batteryMonths, surge }: Policy) => ({
  batteryMonths,
  checkMonths: surge.checkMonths,
  lifeYears: surge.lifeYears,
})

/**
 * After a change of the intervals: works out again what rests on them, in batches that may be stopped anywhere and are
 * gone through again until all is done. Without a change it costs one look at the company.
 * @returns how many devices have other dates now
 */
export async function redateDevices(ctx: Ctx): Promise<number> {
  const policy = await getPolicy(ctx.db)
  const intervals = intervalsOf(policy)
  if (await store.areDatedWith(ctx.db, intervals)) return 0
  let moved = 0
  for (let after: string | null = null; ;) {
    const devices: store.DatedDevice[] = await store.listDatedDevices(ctx.db, after, AT_ONCE)
    const changes = devices.flatMap((device) => changeOf(device, ctx, policy))
    moved += await store.saveDates(ctx.db, changes, ctx.now())
    if (devices.length < AT_ONCE) break
    after = devices.at(-1)!.id
  }
  await store.setDatedWith(ctx.db, intervals)
  return moved
}

function changeOf(device: store.DatedDevice, ctx: Ctx, policy: Policy): store.NewDates[] {
  const { version, timeZone, isUs, replaceBy, nextCheckOn, ...rest } = device
  const equipment = { ...rest, spaceId: null, parentId: null, retiredOn: null } as unknown as Equipment
  const dates = datesByInterval(equipment, ctx.today(timeZone), { policy, isUs })
  const after = { replaceBy, nextCheckOn, ...dates }
  const isSame = after.replaceBy === replaceBy && after.nextCheckOn === nextCheckOn
  return isSame ? [] : [{ id: device.id, version, ...after }]
}
