import type { SpaceKind } from '../property.ts'
import { GENERAL_WORDS, PEOPLE_WORDS, ROOM_WORDS, SPARE_WORDS } from './directory-words.ts'

/** What is wrong with a directory line, or that nothing is. NFPA 70 408.4(A). */
export const LINE_QUALITIES = {
  clear: 'clear',
  blank: 'blank',
  illegible: 'illegible',
  'depends-on-occupant': 'depends on who lives there',
  vague: 'does not say which',
  repeated: 'same as another line',
} as const
export type LineQuality = keyof typeof LINE_QUALITIES

export interface DirectoryLine {
  /** Word for word; nothing when the line is blank. */
  text?: string
  /** False = something is written that cannot be read. */
  legible?: boolean
}

const POSSESSIVE = /\p{L}+['’`´]s?(?=\s|$)/iu
const NOT_PART_OF_A_WORD = /[^\p{L}\p{N}'’`´]+/u

const APOSTROPHES = /['’`´]/g

/** Lower-case words of a line; `A/C`, `W/H` and `rec room` stay one word, since `rec` alone may be a receptacle. */
export function wordsOf(text: string): string[] {
  let line = text.toLowerCase()
  if (line.includes('/')) line = line.replaceAll(/\b(\p{L})\/(\p{L})\b/gu, '$1$2')
  if (line.includes('rec')) line = line.replaceAll(/\brec\.? (?:room|rm)\b/g, 'recroom')
  return line
    .split(NOT_PART_OF_A_WORD)
    .map((word) => word.replaceAll(APOSTROPHES, ''))
    .filter((word) => word.length > 0)
}

export function lineQuality({ text, legible }: DirectoryLine, words = wordsOf(text ?? '')): LineQuality {
  if (legible === false) return 'illegible'
  if (words.length === 0) return text?.trim() ? 'vague' : 'blank'
  if (POSSESSIVE.test(text!) || words.some((word) => PEOPLE_WORDS.has(word))) return 'depends-on-occupant'
  if (isSpare(words)) return 'clear'
  return words.every(isGeneral) ? 'vague' : 'clear'
}

export function isSpare(words: readonly string[]): boolean {
  return SPARE_WORDS.has(words.join(' '))
}

/** A number tells circuits apart only in the directory itself, not in the house. */
function isGeneral(word: string): boolean {
  return GENERAL_WORDS.has(word) || /^\d+$/.test(word)
}

/** Rooms that a line names beyond doubt. `Basement` and `attic` do not say whether they are finished: none. */
export function roomsNamed(text: string): SpaceKind[] {
  const words = wordsOf(text)
  return (Object.keys(ROOM_WORDS) as SpaceKind[]).filter((kind) =>
    ROOM_WORDS[kind]!.some((word) => words.includes(word)),
  )
}
