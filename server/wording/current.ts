import type { Language } from '../../trade/day-in-words.ts'
import type { Ctx } from '../ctx.ts'
import type { MessageKind } from '../messages/categories.ts'
import type { LetterFacts } from '../messages/render/facts.ts'
import { compile, type Rendered, render, type Template } from '../messages/render/render.ts'
import { faultsOf } from './check.ts'
import { partsOf } from './parts.ts'
import * as store from './store.ts'
import { unfitness } from './trying.ts'

/** A wording as it is written with: ready, or the reason why it cannot be used. */
type Usable = { template: Template } | { fault: string }

/** Which words each kind of letter is written in at this moment; null: those that came with the program. */
export type Wordings = (kind: MessageKind, language: Language) => Usable | null

// A version never changes, so what was made of it holds for as long as the process lives. Which version holds is asked
// for each round of letters: one short statement, whoever saved it, in whichever process.
const known = new Map<string, { id: string; usable: Usable }>()

export async function currentWordings(ctx: Pick<Ctx, 'db'>): Promise<Wordings> {
  const current = await store.listCurrent(ctx.db)
  const own = current.filter(({ isOwn }) => isOwn)
  const unknown = own.filter(({ id, kind, language }) => known.get(`${kind}.${language}`)?.id !== id)
  const sources = await store.listSources(
    ctx.db,
    unknown.map(({ id }) => id),
  )
  const bySource = new Map(sources.map(({ id, source }) => [id, source]))
  for (const { id, kind, language } of unknown) {
    known.set(`${kind}.${language}`, { id, usable: usableOf(kind, bySource.get(id) ?? '') })
  }
  const now = new Map(
    own.map(({ kind, language }) => [`${kind}.${language}`, known.get(`${kind}.${language}`)!.usable]),
  )
  return (kind, language) => now.get(`${kind}.${language}`) ?? null
}

/** Checked again: a field that a wording asks for may have gone with a newer version of the program. */
export function usableOf(kind: MessageKind, source: string): Usable {
  try {
    const [first] = faultsOf(kind, partsOf(source))
    return first ? { fault: first.detail } : { template: compile(source) }
  } catch (error) {
    return { fault: (error as Error).message }
  }
}

/**
 * A letter in the company's own words, or in those that came with the program when its own cannot be written: no letter
 * is lost for a wording.
 * @returns `fallback`: what the office is told in the life of the message
 * @throws when not even the built-in words can be written
 */
export function write(
  usable: Usable | null,
  kind: MessageKind,
  language: Language,
  facts: LetterFacts,
  notice = '',
): Rendered & { fallback: string | null } {
  if (!usable) return { ...render(kind, language, facts, { notice }), fallback: null }
  try {
    if ('fault' in usable) throw new Error(usable.fault)
    const letter = render(kind, language, facts, { template: usable.template, notice })
    const unfit = unfitness(letter)
    if (unfit) throw new Error(unfit)
    return { ...letter, fallback: null }
  } catch (error) {
    const why = (error as Error).message.slice(0, 400)
    return { ...render(kind, language, facts, { notice }), fallback: why }
  }
}
