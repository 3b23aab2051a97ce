import { STOP_CONDITIONS } from '../../trade/follow-ups/kind.ts'
import { TOPIC_IDS, type Topic, TOPICS } from '../../trade/follow-ups/topics.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { getCustomer } from '../customers/store.ts'
import type { Db } from '../db.ts'
import { isWanted, MESSAGE_CATEGORIES, type MessageCategory } from '../messages/categories.ts'
import type { PreferencesBody, PreferencesView } from './schema.ts'
import * as store from './store.ts'

/** One word of a person about one kind of mail, whoever heard it. Wanted again, what they had refused speaks again. */
export async function say(
  ctx: Ctx,
  tx: Db,
  word: {
    customerId: string
    category: MessageCategory | Topic
    allowed: boolean
    source: store.PreferenceSource
  },
): Promise<void> {
  if (!(await store.setPreference(tx, word, ctx.now()))) return
  const { customerId, ...after } = word
  await audit(ctx, tx, {
    action: 'customer.preference',
    subjectKind: 'customer',
    subjectId: customerId,
    after,
  })
  if (!word.allowed) return
  const said = await store.listPreferences(tx, customerId)
  const refused = TOPIC_IDS.filter((topic) => said.get(topic) === false).flatMap((topic) => [
    ...TOPICS[topic],
  ])
  await store.reopenOptedOut(tx, customerId, STOP_CONDITIONS['opted-out'], refused, ctx.now())
}

/** What a customer wants to be written about, with who said so and when; null where nobody has: the default holds. */
export async function readPreferences(ctx: Ctx, customerId: string): Promise<PreferencesView> {
  await getCustomer(ctx.db, customerId)
  const said = new Map((await store.listSaid(ctx.db, customerId)).map((each) => [each.category, each]))
  const choice = (category: Choice) => {
    const word = said.get(category)
    return {
      category,
      allowed: isAllowed(category, word?.allowed),
      said: word ? { source: word.source, by: word.by, at: word.at.toISOString() } : null,
    }
  }
  return {
    reminder: { ...choice('reminder'), title: MESSAGE_CATEGORIES.reminder },
    tips: { ...choice('tips'), title: MESSAGE_CATEGORIES.tips },
    topics: TOPIC_IDS.map((topic) => ({ ...choice(topic), title: TOPIC_TITLES[topic] })),
  }
}

/** Said on the phone: what the office writes down counts like their own word. What is as it was stays their word. */
export async function changePreferences(
  ctx: Ctx,
  customerId: string,
  { wishes }: PreferencesBody,
): Promise<PreferencesView> {
  await ctx.db.$transaction(async (tx) => {
    await getCustomer(tx, customerId)
    const before = await store.listPreferences(tx, customerId)
    for (const [category, allowed] of Object.entries(wishes) as [Choice, boolean][]) {
      if (isAllowed(category, before.get(category)) === allowed) continue
      await say(ctx, tx, { customerId, category, allowed, source: 'office' })
    }
  })
  return readPreferences(ctx, customerId)
}

type Choice = 'reminder' | 'tips' | Topic

const isAllowed = (category: Choice, word: boolean | undefined) =>
  category === 'reminder' || category === 'tips' ? isWanted(category, word ?? null) : (word ?? true)

const TOPIC_TITLES: Readonly<Record<Topic, string>> = {
  'about-alarms': 'Smoke and carbon monoxide alarms',
  'about-surge': 'The surge protector',
  'about-inspections': 'The next inspection',
  'about-findings': 'Findings that are not dangerous',
  'about-estimates': 'Estimates not answered',
}
