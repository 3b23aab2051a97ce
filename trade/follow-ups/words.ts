import { type Day, partsOf } from '../dates.ts'

const MONTHS = {
  en: [
    'January',
    'February',
    'March',
    'April',
    'May',
    'June',
    'July',
    'August',
    'September',
    'October',
    'November',
    'December',
  ],
  es: [
    'enero',
    'febrero',
    'marzo',
    'abril',
    'mayo',
    'junio',
    'julio',
    'agosto',
    'septiembre',
    'octubre',
    'noviembre',
    'diciembre',
  ],
} as const
export type Language = keyof typeof MONTHS

/** `February 28, 2026`, `28 de febrero de 2026`. */
export function dayInWords(value: Day, language: Language): string {
  const { year, month, date } = partsOf(value)
  const name = MONTHS[language][month - 1]
  return language === 'en' ? `${name} ${date}, ${year}` : `${date} de ${name} de ${year}`
}

/** Second half of a sentence whose date was worked out rather than read. */
export const ASSUMED = {
  en: ' We worked this date out, because the device does not print one.',
  es: ' Hemos calculado esta fecha, porque el aparato no la lleva impresa.',
}

/** What a person wrote, to stand inside a sentence of ours that ends by itself. */
export function withoutFullStop(text: string): string {
  return text.trim().replace(/\.+$/, '')
}
