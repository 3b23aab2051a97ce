import type { Language } from '../day-in-words.ts'
import { lineNetCents, moneyInWords, typedQuantity } from './money.ts'
import { isTaken, type OptionalLine, optionNames, sumsWith } from './options.ts'

/** What is signed: the words that the person read, whole, so that they can be understood without anything else. */
export interface Signed {
  number: number
  version: number
  company: string
  /** Where the work is done: `14 Quay Lane, Port Ansel`. */
  address: string
  lines: readonly (OptionalLine & { description: string })[]
  /** What is unsafe and would stay as it is: the words of each finding. */
  unsafe: readonly string[]
}

const WORDS = {
  en: {
    accept: (of: string) => `I accept ${of}:`,
    decline: (of: string) => `I do not accept ${of}.`,
    of: ({ number, version, company, address }: Signed) =>
      `estimate ${number} (version ${version}) of ${company} for ${address}`,
    left: (names: string) => `I leave out: ${names}.`,
    sums: (net: string, tax: string, total: string) =>
      `Without tax ${net}, tax ${tax}, with tax ${total}. I ask for this work to be done at that price.`,
    unsafe: (what: string) =>
      `I was told that the following is unsafe and can cause shock, burn or fire: ${what}. I was offered to have it corrected and decide against it. I understand that it should not be used until it is corrected.`,
  },
  es: {
    accept: (of: string) => `Acepto ${of}:`,
    decline: (of: string) => `No acepto ${of}.`,
    of: ({ number, version, company, address }: Signed) =>
      `el presupuesto ${number} (versión ${version}) de ${company} para ${address}`,
    left: (names: string) => `Dejo fuera: ${names}.`,
    sums: (net: string, tax: string, total: string) =>
      `Sin impuestos ${net}, impuestos ${tax}, con impuestos ${total}. Pido que se haga este trabajo por ese precio.`,
    unsafe: (what: string) =>
      `Me explicaron que lo siguiente es peligroso y puede causar descarga, quemadura o incendio: ${what}. Me ofrecieron corregirlo y decido no hacerlo. Entiendo que no se debe usar hasta que se corrija.`,
  },
} as const satisfies Record<Language, object>

/** How an answer may reach the office that nobody signed. */
export const TOLD_WAYS = { phone: 'On the telephone', 'in-person': 'In person' } as const
export type ToldWay = keyof typeof TOLD_WAYS

const TOLD_WORDS: Readonly<Record<Language, Readonly<Record<ToldWay, string>>>> = {
  en: { phone: 'on the telephone', 'in-person': 'in person' },
  es: { phone: 'por teléfono', 'in-person': 'en persona' },
}

/** The same words where they were said and not signed: who said them to whom stands before them. */
export function toldStatement(
  statement: string,
  { name, how, to, company }: { name: string; how: ToldWay; to: string; company: string },
  language: Language,
): string {
  const way = TOLD_WORDS[language][how]
  const said = {
    en: `${name} said ${way} to ${to} of ${company}:`,
    es: `${name} dijo ${way} a ${to} de ${company}:`,
  }
  return `${said[language]}\n${statement}`
}

const inQuotes = (texts: readonly string[]) =>
  texts.map((text) => `“${text.trim().replace(/\.$/, '')}”`).join('; ')

export function acceptanceStatement(signed: Signed, chosen: readonly string[], language: Language): string {
  const w = WORDS[language]
  const { lines, unsafe } = signed
  const taken = lines.filter((line) => isTaken(line, chosen))
  const left = optionNames(lines).filter((name) => !chosen.includes(name))
  const { netCents, taxCents, totalCents } = sumsWith(lines, chosen)
  return [
    w.accept(w.of(signed)),
    ...taken.map((line, at) => {
      const of = `${typedQuantity(line.quantityThousandths)} × ${moneyInWords(line.priceCents)}`
      return `${at + 1}. ${line.description} (${of} = ${moneyInWords(lineNetCents(line))})`
    }),
    ...(left.length > 0 ? [w.left(left.join('; '))] : []),
    w.sums(moneyInWords(netCents), moneyInWords(taxCents), moneyInWords(totalCents)),
    ...(unsafe.length > 0 ? [w.unsafe(inQuotes(unsafe))] : []),
  ].join('\n')
}

export function refusedStatement(signed: Signed, language: Language): string {
  const w = WORDS[language]
  const { unsafe } = signed
  return [w.decline(w.of(signed)), ...(unsafe.length > 0 ? [w.unsafe(inQuotes(unsafe))] : [])].join('\n')
}
