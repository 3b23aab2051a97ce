import { type Language } from '../../../trade/day-in-words.ts'
import { withoutFullStop } from '../../../trade/follow-ups/words.ts'
import { spanishTitle } from '../../../trade/checklist/spanish.ts'

// What technicians and the office write down is in their own language, mostly English. A letter in Spanish says in
// Spanish what it is about, and gives those words as what they are: a quotation in English. It never translates them by
// itself, for a wrong word about a danger is worse than a foreign one.

/** A finding as a part of a sentence, without a full stop at its end. */
export function findingInWords(finding: { itemId: string; text: string }, language: Language): string {
  const text = withoutFullStop(finding.text)
  const written = writtenIn(text)
  if (language === 'en' || written === 'es') return text
  const title = spanishTitle(finding.itemId)
  return text === '' ? title : `${title} («${text}», ${by('technician', written)})`
}

/** The same at the beginning of a line. */
export function findingAsLine(...given: Parameters<typeof findingInWords>): string {
  const words = findingInWords(...given)
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** What was written down, as a part of a sentence: by the technician, or by the office. */
export function quoted(text: string, who: Writer, language: Language): string {
  const words = withoutFullStop(text)
  if (words === '' || language === 'en') return words
  const written = writtenIn(words)
  return written === 'es' ? words : `«${words}» (${by(who, written)})`
}

type Writer = 'technician' | 'office'

function by(who: Writer, written: Language | null): string {
  const writer = { technician: 'el técnico', office: 'la oficina' }[who]
  return written === 'en' ? `escrito por ${writer} en inglés` : `tal como lo escribió ${writer}`
}

const SPANISH =
  /[áéíóúñ¿¡]|\b(el|la|los|las|del|al|de|un|una|en|con|sin|por|para|que|y|se|es|hay|su|junto|falta|alarma|tomacorriente|toma|caja|tapa|interruptor|floj[oa]|suelt[oa]|rot[oa])\b/gi
const ENGLISH =
  /\b(the|an|of|is|are|was|were|not|and|at|in|on|its|our|with|without|by|for|to|off|behind|has|loose|missing|open|broken|outlet|breaker|cover|wire)\b/gi

/** The language that something was written in, by its small words and those of the trade; null where neither shows. */
export function writtenIn(text: string): Language | null {
  const count = (pattern: RegExp) => text.match(pattern)?.length ?? 0
  const [spanish, english] = [count(SPANISH), count(ENGLISH)]
  return spanish > english ? 'es' : english > spanish ? 'en' : null
}
