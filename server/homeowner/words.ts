import type { Language } from '../../trade/day-in-words.ts'
import { en, type PageWords } from './words-en.ts'
import { es } from './words-es.ts'

export type { PageWords }
export type ThanksFor = keyof PageWords['thanks']

export const PAGE_WORDS: Readonly<Record<Language, PageWords>> = { en, es }

/** Puts facts into the gaps of a sentence. */
export function fill(sentence: string, facts: Readonly<Record<string, string | number>>): string {
  return sentence.replace(/\{(\w+)\}/g, (gap, name: string) => String(facts[name] ?? gap))
}
