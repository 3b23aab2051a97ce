import { withoutFullStop, type Language } from '../../../trade/follow-ups/words.ts'
import { spanishTitle } from '../../../trade/checklist/spanish.ts'

// What technicians and the office write down is in their own language, mostly English. A letter in Spanish says in
// Spanish what it is about, and gives those words as what they are: a quotation in English. It never translates them by
// itself, for a wrong word about a danger is worse than a foreign one.

/** A finding as a part of a sentence, without a full stop at its end. */
export function findingInWords(finding: { itemId: string; text: string }, language: Language): string {
  const text = withoutFullStop(finding.text)
  if (language === 'en' || isSpanish(text)) return text
  const title = spanishTitle(finding.itemId)
  return text === '' ? title : `${title} («${text}», escrito por el técnico en inglés)`
}

/** What was written down, as a part of a sentence: by the technician, or by the office. */
export function quoted(text: string, by: 'technician' | 'office', language: Language): string {
  const words = withoutFullStop(text)
  if (words === '' || language === 'en' || isSpanish(words)) return words
  return `«${words}» (escrito por ${by === 'technician' ? 'el técnico' : 'la oficina'} en inglés)`
}

const SPANISH = /[áéíóúñ¿¡]|\b(el|la|los|las|del|un|una|en|con|sin|por|para|que|y|se|es|está|hay|su)\b/gi
const ENGLISH = /\b(the|a|an|of|is|are|was|not|and|at|in|on|with|without|by|for|to|off|behind|has|no)\b/gi

/** Whether somebody wrote it in Spanish: more of its small words and letters than of the English ones. */
export function isSpanish(text: string): boolean {
  const count = (pattern: RegExp) => text.match(pattern)?.length ?? 0
  return count(SPANISH) > count(ENGLISH)
}
