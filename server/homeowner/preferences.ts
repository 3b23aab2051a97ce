import { z } from 'zod'
import { TOPIC_IDS } from '../../trade/follow-ups/topics.ts'
import type { Language } from '../../trade/day-in-words.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import type { Db } from '../db.ts'
import { Problem } from '../errors.ts'
import { readUnsubscribeToken } from '../links/unsubscribe.ts'
import { COMMERCIAL, isWanted } from '../messages/categories.ts'
import { say } from '../preferences/service.ts'
import { listPreferences } from '../preferences/store.ts'
import { getCompany } from '../settings/store.ts'
import { acted, type Visitor } from './entry.ts'
import * as store from './store.ts'

export async function preferenceFacts(visitor: Visitor, isSaved: boolean, fault: string | null = null) {
  const { ctx, link, words } = visitor
  const said = await listPreferences(ctx.db, link.customerId)
  return {
    title: words.preferencesTitle,
    isSaved,
    fault,
    reminder: isWanted('reminder', said.get('reminder') ?? null),
    tips: isWanted('tips', said.get('tips') ?? null),
    topics: TOPIC_IDS.map((topic) => ({
      topic,
      said: words.topics[topic],
      allowed: said.get(topic) ?? true,
    })),
    isEnglish: link.language === 'en',
  }
}

export const preferencesBody = z.object({
  form: z.string().max(100).optional(),
  reminder: z.string().max(10).optional(),
  tips: z.string().max(10).optional(),
  /** What the reminders may be about; those left out are not wanted. */
  topic: z
    .union([z.enum(TOPIC_IDS), z.array(z.enum(TOPIC_IDS)).max(TOPIC_IDS.length)])
    .default([])
    .transform((value) => [value].flat()),
  language: z.enum(['en', 'es']).default('en'),
})

export async function savePreferences(
  visitor: Visitor,
  body: z.output<typeof preferencesBody>,
): Promise<void> {
  const { ctx, link } = visitor
  await ctx.db.$transaction(async (tx) => {
    const word = { customerId: link.customerId, source: 'preferences-page' } as const
    for (const category of COMMERCIAL) {
      await say(ctx, tx, { ...word, category, allowed: body[category as 'reminder' | 'tips'] === 'yes' })
    }
    // Without reminders there is nothing to choose among: what was chosen before stays.
    if (body.reminder !== 'yes') return speak(ctx, tx, link.customerId, body.language)
    const before = await listPreferences(tx, link.customerId)
    for (const topic of TOPIC_IDS) {
      const allowed = body.topic.includes(topic)
      if (allowed !== (before.get(topic) ?? true)) await say(ctx, tx, { ...word, category: topic, allowed })
    }
    await speak(ctx, tx, link.customerId, body.language)
  })
  await acted(visitor)
}

export const languageBody = z.object({
  form: z.string().max(100).optional(),
  language: z.enum(['en', 'es']),
  page: z.enum(['', 'preferences']).default(''),
})

/** The other language, for every page and letter from now on. */
export async function saveLanguage(visitor: Visitor, body: z.output<typeof languageBody>): Promise<void> {
  const { ctx, link } = visitor
  await ctx.db.$transaction((tx) => speak(ctx, tx, link.customerId, body.language))
}

async function speak(ctx: Ctx, tx: Db, customerId: string, language: Language): Promise<void> {
  if (!(await store.setLanguage(tx, customerId, language, ctx.now()))) return
  const change = { action: 'customer.language', subjectKind: 'customer', subjectId: customerId }
  await audit(ctx, tx, { ...change, after: { language } })
}

/** Whose way out it is, and of which kind of mail. @throws not-found for one that we never gave */
export async function openWayOut(ctx: Ctx, token: string) {
  const said = readUnsubscribeToken(ctx.env, token)
  const customer = said && (await store.findCustomer(ctx.db, said.customerId))
  if (!said || !customer) throw new Problem('not-found', 'There is no such page.')
  return { ...said, language: customer.language as Language, company: await getCompany(ctx.db) }
}

/** At once, and as often as they like: the law gives ten business days (16 CFR 316.5), we need none. */
export async function unsubscribe(ctx: Ctx, token: string) {
  const way = await openWayOut(ctx, token)
  const { customerId, category } = way
  const acting: Ctx = { ...ctx, actor: { kind: 'homeowner', linkId: '', customerId, propertyId: null } }
  await ctx.db.$transaction((tx) =>
    say(acting, tx, { customerId, category, allowed: false, source: 'unsubscribe' }),
  )
  return way
}
