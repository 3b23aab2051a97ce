import type { Language } from '../../trade/day-in-words.ts'
import { theUser } from '../accounts/service.ts'
import { audit } from '../audit/store.ts'
import type { Ctx } from '../ctx.ts'
import { Problem } from '../errors.ts'
import { newId } from '../ids.ts'
import { MESSAGE_CATEGORIES, MESSAGE_KINDS, type MessageKind } from '../messages/categories.ts'
import { builtInSource } from '../messages/render/render.ts'
import { sampleFacts } from '../messages/sample.ts'
import { planStaffMessage } from '../messages/service.ts'
import { getCompany } from '../settings/store.ts'
import { changedMeanwhile } from '../versions.ts'
import { usableOf, write } from './current.ts'
import { blocksOf, fieldsOf } from './legend.ts'
import { partsOf, sourceOf, type WordingParts } from './parts.ts'
import type * as schema from './schema.ts'
import { shownCommon, shownFacts, type TestContext } from './shown.ts'
import * as store from './store.ts'
import { allFaultsOf } from './trying.ts'

export interface Letter {
  kind: MessageKind
  language: Language
}

const LANGUAGES: readonly Language[] = ['en', 'es']

export async function listWordings(ctx: Ctx): Promise<schema.WordingSummary[]> {
  const changed = await store.listLetters(ctx.db)
  return (Object.keys(MESSAGE_KINDS) as MessageKind[]).flatMap((kind) =>
    LANGUAGES.map((language) =>
      summaryOf(
        { kind, language },
        changed.find((each) => each.kind === kind && each.language === language),
      ),
    ),
  )
}

function summaryOf(
  { kind, language }: Letter,
  current: store.CurrentWording | undefined,
): schema.WordingSummary {
  return {
    kind,
    language,
    categoryTitle: MESSAGE_CATEGORIES[MESSAGE_KINDS[kind]],
    version: current?.version ?? 0,
    isOwn: current?.source != null,
    changedAt: current?.at.toISOString() ?? null,
    changedBy: current?.by ?? null,
    note: current?.note ?? '',
    fallbacks: current?.source == null ? 0 : current.fallbacks,
  }
}

export async function readWording(ctx: Ctx, letter: Letter): Promise<schema.WordingView> {
  const { kind, language } = letter
  const company = await getCompany(ctx.db)
  const versions = await store.listVersions(ctx.db, kind, language)
  const current = (await store.listLetters(ctx.db)).find(
    (each) => each.kind === kind && each.language === language,
  )
  const sample = sampleFacts(shownCommon(ctx, kind, company), kind, language)
  return {
    ...summaryOf(letter, current),
    words: wordsOf(letter, current?.source ?? null),
    fields: fieldsOf(kind, sample),
    blocks: blocksOf(kind),
    versions: [
      ...versions.map(({ version, at, by, note, source }) => ({
        version,
        at: at.toISOString(),
        by,
        note,
        isOwn: source !== null,
      })),
      { version: 0, at: null, by: null, note: 'As it came with the program', isOwn: false },
    ],
  }
}

const wordsOf = ({ kind, language }: Letter, source: string | null): WordingParts =>
  partsOf(source ?? builtInSource(kind, language))

export async function readVersion(
  ctx: Ctx,
  letter: Letter,
  version: number,
): Promise<schema.WordingVersionView> {
  return { version, words: wordsOf(letter, await sourceOfVersion(ctx, letter, version)) }
}

async function sourceOfVersion(
  ctx: Ctx,
  { kind, language }: Letter,
  version: number,
): Promise<string | null> {
  if (version === 0) return null
  const found = await store.findVersion(ctx.db, kind, language, version)
  if (!found) throw new Problem('not-found', 'There is no such version of this letter.')
  return found.source
}

/** How it looks, written as it would be sent. @throws wording-refused with all that is wrong with words not yet saved */
export async function showWording(
  ctx: Ctx,
  letter: Letter,
  { words, like }: schema.ShowBody,
): Promise<schema.ShownLetter> {
  const { kind, language } = letter
  const company = await getCompany(ctx.db)
  if (words) check(letter, words, shownCommon(ctx, kind, company))
  const facts = await shownFacts(ctx, kind, language, company, like)
  const { subject, html, text } = write(await usable(ctx, letter, words), kind, language, facts)
  return { subject, html, text }
}

async function usable(ctx: Ctx, { kind, language }: Letter, words: WordingParts | null) {
  if (words) return usableOf(kind, sourceOf(words))
  const [newest] = await store.listVersions(ctx.db, kind, language)
  return newest?.source == null ? null : usableOf(kind, newest.source)
}

function check(
  { kind, language }: Letter,
  words: WordingParts,
  common: ReturnType<typeof shownCommon>,
): void {
  const errors = allFaultsOf(kind, language, words, common)
  if (errors.length === 0) return
  throw new Problem('wording-refused', errors.map(({ detail }) => detail).join(' '), { errors })
}

/** A new version. Nothing is kept of words that could not be sent. */
export async function saveWording(
  ctx: Ctx,
  letter: Letter,
  seen: number,
  { note, ...words }: schema.SaveBody,
): Promise<schema.WordingView> {
  check(letter, words, shownCommon(ctx, letter.kind, await getCompany(ctx.db)))
  return keep(ctx, letter, seen, sourceOf(words), note)
}

/** An earlier version once more, as a new one: what was in between stays to be looked at. */
export async function revertWording(
  ctx: Ctx,
  letter: Letter,
  seen: number,
  { to, note }: schema.RevertBody,
): Promise<schema.WordingView> {
  const source = await sourceOfVersion(ctx, letter, to)
  // Fields may have gone since it was saved.
  if (source !== null) {
    check(letter, partsOf(source), shownCommon(ctx, letter.kind, await getCompany(ctx.db)))
  }
  const words = to === 0 ? 'Back to how it came with the program' : `Back to version ${to}`
  return keep(ctx, letter, seen, source, note === '' ? words : `${words}: ${note}`)
}

async function keep(
  ctx: Ctx,
  letter: Letter,
  seen: number,
  source: string | null,
  note: string,
): Promise<schema.WordingView> {
  const id = newId()
  const { kind, language } = letter
  const byId = theUser(ctx).id
  const before = await readWording(ctx, letter)
  await ctx.db.$transaction(async (tx) => {
    const isStored = await store.insertVersion(tx, {
      id,
      kind,
      language,
      seen,
      source,
      note,
      byId,
      now: ctx.now(),
    })
    if (!isStored) throw changedMeanwhile(seen, await readWording(ctx, letter))
    await audit(ctx, tx, {
      action: 'wording.change',
      subjectKind: 'wording',
      subjectId: id,
      before: { kind, language, words: before.words },
      after: { kind, language, words: wordsOf(letter, source), note },
    })
  })
  return readWording(ctx, letter)
}

/**
 * Sends it to whoever asks, the way that every message goes. It belongs to no household: nobody's count, preference or
 * follow-up knows of it, and its links lead nowhere.
 */
export async function testWording(
  ctx: Ctx,
  letter: Letter,
  { words, like }: schema.ShowBody,
): Promise<schema.TestView> {
  // What cannot be shown cannot be sent; better said here than in the life of a message.
  await showWording(ctx, letter, { words, like })
  const { kind, language } = letter
  const to = await store.getAddress(ctx.db, theUser(ctx).id)
  const context: TestContext = { test: { by: to.name, like, source: words && sourceOf(words) } }
  const messageId = await ctx.db.$transaction((tx) =>
    planStaffMessage(ctx, tx, {
      kind,
      language,
      to,
      dedupeKey: `test-${newId()}`,
      context: { ...context },
      reason: `A test of this letter, asked for by ${to.name}`,
    }),
  )
  await ctx.enqueue('send-message', { messageId })
  return { messageId, to: to.email }
}
