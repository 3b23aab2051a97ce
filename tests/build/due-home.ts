import type { FastifyInstance } from 'fastify'
import { day } from '../../trade/dates.ts'
import type { Ctx } from '../../server/ctx.ts'
import { planDue } from '../../server/follow-ups/plan.ts'
import { buildAlarm, buildHousehold } from './follow-up.ts'
import { buildLink } from './link.ts'
import { visitorOf } from './visitor.ts'

/** A home with one alarm that is due, its follow-up, and somebody who opens the private link to it. */
export async function buildDueHome(
  app: FastifyInstance,
  ctx: Ctx,
  more: Parameters<typeof buildHousehold>[1] = {},
) {
  const home = await buildHousehold(ctx, more)
  const alarmId = await buildAlarm(ctx, home, day('2026-06-20'))
  await planDue(ctx, ctx.db, { propertyId: home.propertyId })
  const url = await buildLink(ctx, home)
  const { id } = await ctx.db.followUp.findFirstOrThrow({ where: { propertyId: home.propertyId } })
  return { ...home, alarmId, url, id, at: visitorOf(app) }
}
