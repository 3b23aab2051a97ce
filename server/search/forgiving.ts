import { Prisma, type PrismaClient } from '../../prisma/generated/client.ts'

// Conditions on a `search` column: folded text (small letters, no accents), phone numbers as bare digits.

/** Share of letter groups (pg_trgm) that what was typed must have in common with a stretch of the text. */
const LIKENESS = 0.45

/** How people write a number: `(555) 555-0123`, `+1 555.555.0123`. Null when it is none, or too short to say much. */
export function phoneDigits(typed: string): string | null {
  if (!/^[\d\s()+./-]+$/.test(typed)) return null
  const digits = typed.replace(/\D/g, '')
  return digits.length >= 4 ? digits : null
}

/** The same number may be kept without country or area code. */
function shorterForms(digits: string): string[] {
  return [...new Set([digits, digits.slice(-10), digits.slice(-7)])]
}

export function wordsOf(typed: string): string[] {
  return typed
    .normalize('NFD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
    .split(/[\s,;]+/)
    .filter((word) => word !== '')
    .slice(0, 8)
}

/** The word, and each way of swapping two neighbouring letters: the commonest slip of the fingers. */
export function withSwaps(word: string): string[] {
  const letters = [...word.slice(0, 24)]
  const swapped = letters.slice(1).map((letter, i) =>
    letters
      .with(i, letter)
      .with(i + 1, letters[i]!)
      .join(''),
  )
  return [...new Set([word, ...(letters.length < 3 ? [] : swapped)])]
}

/** For LIKE: the words as they stand, anywhere in the text. */
export const anywhere = (word: string) => `%${word.replace(/[\\%_]/g, '\\$&')}%`

const containsOne = (column: Prisma.Sql, alternatives: readonly string[]) =>
  Prisma.sql`(${Prisma.join(
    alternatives.map((word) => Prisma.sql`${column} LIKE fold(${anywhere(word)})`),
    ' OR ',
  )})`

const containsAll = (column: Prisma.Sql, words: readonly string[], forms: (word: string) => string[]) =>
  words.length === 0
    ? Prisma.sql`true`
    : Prisma.join(
        words.map((word) => containsOne(column, forms(word))),
        ' AND ',
      )

/** Every word stands in the text as typed, or the number in any of its forms. */
export function contains(column: Prisma.Sql, typed: string): Prisma.Sql {
  const digits = phoneDigits(typed)
  const all = containsAll(column, wordsOf(typed), (word) => [word])
  return digits
    ? Prisma.sql`((${all}) OR ${containsOne(column, shorterForms(digits))})`
    : Prisma.sql`(${all})`
}

/** For when nothing contains it: two letters swapped, or enough of the letters in common. Ask through `forgivingly`. */
export function resembles(column: Prisma.Sql, typed: string): Prisma.Sql {
  const digits = phoneDigits(typed)
  if (digits) return containsOne(column, withSwaps(digits.slice(-7)))
  const swapped = containsAll(column, wordsOf(typed), withSwaps)
  // Numbers that only look alike are other numbers.
  const isWord = /\p{Letter}{3}/u.test(typed)
  return isWord ? Prisma.sql`((${swapped}) OR fold(${typed}) <% ${column})` : Prisma.sql`(${swapped})`
}

/** How much of what was typed is in the text, 0 to 1: to put the best first. */
export function likeness(column: Prisma.Sql, typed: string): Prisma.Sql {
  return Prisma.sql`word_similarity(fold(${typed}), ${column})`
}

/** Runs a query that uses `resembles`: the index needs the threshold as a setting, for one transaction. */
export async function forgivingly<Row>(db: PrismaClient, query: Prisma.Sql): Promise<Row[]> {
  const [, rows] = await db.$transaction([
    db.$queryRaw`SELECT set_config('pg_trgm.word_similarity_threshold', ${String(LIKENESS)}, true)`,
    db.$queryRaw<Row[]>(query),
  ])
  return rows
}
