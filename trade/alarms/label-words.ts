/** What a date on a label says. A bare date is the date of manufacture. */
export type Meaning = 'manufacture' | 'replace-by' | 'installed'

/** Words printed beside a date, most telling first: "replacement date" is an end although it says "date". */
const WORDS: readonly { meaning: Meaning; pattern: RegExp }[] = [
  { meaning: 'replace-by', pattern: /REPL|EXP|END OF LIFE|END OF SERVICE|USE BY|BEFORE|UNTIL|DISCARD/ },
  { meaning: 'installed', pattern: /INSTALL|IN SERVICE|FITTED/ },
  { meaning: 'manufacture', pattern: /MFD|MFG|MANUF|MADE|\bDOM\b|PROD|DATE/ },
]

/**
 * Meaning of the words before a date, upper case; null when they say nothing. `DATE` alone says manufacture: a fire
 * test firm's guide has it the same way.
 */
export function meaningOf(words: string): Meaning | null {
  return WORDS.find(({ pattern }) => pattern.test(words))?.meaning ?? null
}

const MONTHS = ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC']

/** An English month, short or whole, with or without its point. Group 1 holds the name. */
export const MONTH_NAME =
  '(JAN(?:UARY)?|FEB(?:RUARY)?|MAR(?:CH)?|APR(?:IL)?|MAY|JUNE?|JULY?|AUG(?:UST)?|SEPT?(?:EMBER)?|OCT(?:OBER)?|' +
  'NOV(?:EMBER)?|DEC(?:EMBER)?)(?![A-Z])\\.?'

/** 1 to 12 for a name that `MONTH_NAME` found. */
export function monthNumber(name: string): number {
  return MONTHS.indexOf(name.slice(0, 3)) + 1
}
