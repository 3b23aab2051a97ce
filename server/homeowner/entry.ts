import type { Ctx, HomeownerActor } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { deriveToken, hashToken, isSameText } from '../links/tokens.ts'
import { getCompany } from '../settings/store.ts'
import { type FoundLink, type HomeOfHousehold, findLink, listHomes, markActed, markSeen } from './store.ts'
import type { CompanyOnPage } from './view.ts'
import { PAGE_WORDS, type PageWords } from './words.ts'

/** Someone with a private link: one household, and nothing else. */
export interface Visitor {
  /** Acting as the homeowner. */
  ctx: Ctx & { actor: HomeownerActor }
  link: FoundLink
  homes: HomeOfHousehold[]
  company: CompanyOnPage
  words: PageWords
  /** Where the pages of this link begin. */
  base: string
  /** Every form carries it: it was made by one of our pages for this link. */
  form: string
}

/** @throws Problem not-found for an address that was never ours, link-expired for one that is over */
export async function openLink(ctx: Ctx, token: string): Promise<Visitor> {
  const link = /^[\w-]{43}$/.test(token) ? await findLink(ctx.db, hashToken(token)) : null
  if (!link) throw new Problem('not-found', 'There is no such page.')
  if (link.revokedAt) throw new Problem('link-withdrawn')
  if (link.expiresAt <= ctx.now()) throw new Problem('link-expired')
  const [homes, company] = await Promise.all([
    listHomes(ctx.db, link.customerId, link.propertyId),
    getCompany(ctx.db),
  ])
  const { id: linkId, customerId, propertyId } = link
  return {
    ctx: { ...ctx, actor: { kind: 'homeowner', linkId, customerId, propertyId } },
    link,
    homes,
    company,
    words: PAGE_WORDS[link.language],
    base: `/h/${token}`,
    form: deriveToken(ctx.env, 'form', link.id),
  }
}

/** A visitor for one of their homes. @throws not-found for any other */
export function atHome(visitor: Visitor, propertyId: string): Visitor & { home: HomeOfHousehold } {
  const home = visitor.homes.find((each) => each.id === propertyId)
  if (!home) throw new Problem('not-found', 'There is no such home here.')
  const actor = { ...visitor.ctx.actor, propertyId }
  return { ...visitor, ctx: { ...visitor.ctx, actor }, home }
}

/** A fault in what was filled in: the page is shown again with it. */
export class FormFault extends Error {}

export const isOfForm = (visitor: Visitor, given: string | undefined) => isSameText(given ?? '', visitor.form)

export function checkForm(visitor: Visitor, given: string | undefined): void {
  if (!isOfForm(visitor, given)) throw new FormFault(visitor.words.errors.form)
}

export const seen = ({ ctx, link }: Visitor) => markSeen(ctx.db, link.id, ctx.now())
export const acted = ({ ctx, link }: Visitor) => markActed(ctx.db, link.id, ctx.now())

/** A new id for the record that a form will make: sent twice, it is one record. */
export const formId = newId
