import type { Ctx } from '../../server/ctx.ts'
import { newId } from '../../server/ids.ts'
import { linkToken } from '../../server/links/service.ts'
import { hashToken } from '../../server/links/tokens.ts'
import type { Household } from './follow-up.ts'

/** A private link of a household. @returns the address of its page, without the host */
export async function buildLink(
  { db, env, now }: Ctx,
  home: Household,
  more: {
    purpose?: string
    subjectId?: string
    expiresAt?: Date
    propertyId?: string | null
    id?: string
  } = {},
): Promise<string> {
  const id = more.id ?? newId()
  const token = linkToken(env, id)
  await db.privateLink.create({
    data: {
      id,
      customerId: home.customerId,
      propertyId: more.propertyId === undefined ? home.propertyId : more.propertyId,
      purpose: more.purpose ?? 'due',
      subjectId: more.subjectId ?? null,
      tokenHash: new Uint8Array(hashToken(token)),
      expiresAt: more.expiresAt ?? new Date(now().getTime() + 30 * 86_400_000),
      createdAt: now(),
    },
  })
  return `/h/${token}`
}
