import type { Edition, RuleContext } from './editions.ts'
import { type EditionRow, valueIn } from './requirement.ts'
import type { Reference, Required } from './verdict.ts'

/** Numbers of one passage of NFPA 70 by edition, or the one number it always had. */
export type Article = string | readonly EditionRow<string>[]

/** A place in NFPA 70. Where no edition is known the newest number is given, without a year. */
export function nec(article: Article, edition: Edition | null, row?: string): Reference {
  const reference: Reference = { code: 'NFPA 70', article: articleIn(article, edition) }
  if (edition) reference.edition = edition
  if (row) reference.row = row
  return reference
}

export function articleIn(article: Article, edition: Edition | null): string {
  if (typeof article === 'string') return article
  return (edition && valueIn(article, edition)) ?? article.at(-1)!.value
}

/** The edition that figures are read in: the one in force, else the one it was built under. */
export function editionRead(context: RuleContext): Edition | null {
  return context.editionNow ?? context.editionWhenBuilt
}

/** Clocks of what every edition has asked: unknown only where the edition is. */
export function inEveryEdition(context: RuleContext): { whenBuilt: Required; today: Required } {
  return {
    whenBuilt: context.editionWhenBuilt ? 'yes' : 'unknown',
    today: context.editionNow ? 'yes' : 'unknown',
  }
}

/** A habit of the trade with no published source. */
export const COMMON_PRACTICE: Reference = { code: 'common practice' }
