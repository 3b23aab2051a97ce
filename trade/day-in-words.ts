import { type Day, partsOf } from './dates.ts'

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
