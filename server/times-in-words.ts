import { partsOf, type Day } from '../trade/dates.ts'
import { dayInWords, type Language } from '../trade/day-in-words.ts'
import { dayInZone } from './time.ts'

const LOCALES: Record<Language, string> = { en: 'en-US', es: 'es-US' }

/** `Thursday, June 4, 2026`, `jueves, 4 de junio de 2026`. */
export function weekdayInWords(value: Day, language: Language): string {
  const { year, month, date } = partsOf(value)
  const weekday = new Intl.DateTimeFormat(LOCALES[language], { weekday: 'long', timeZone: 'UTC' })
  return `${weekday.format(new Date(Date.UTC(year, month - 1, date)))}, ${dayInWords(value, language)}`
}

/** `9:00 AM`, `9:00 a. m.` on the wall of a zone. */
export function timeInWords(instant: Date, zone: string, language: Language): string {
  return new Intl.DateTimeFormat(LOCALES[language], {
    hour: 'numeric',
    minute: '2-digit',
    timeZone: zone,
  })
    .format(instant)
    .replace(/\s/g, ' ')
}

/** When somebody is expected: the day, and between which times. */
export function windowInWords(from: Date, to: Date, zone: string, language: Language) {
  return {
    day: weekdayInWords(dayInZone(from, zone), language),
    from: timeInWords(from, zone, language),
    to: timeInWords(to, zone, language),
  }
}

/** `June 4, 2026 at 9:00 AM`: for what the office is told. */
export function momentInWords(instant: Date, zone: string): string {
  return `${dayInWords(dayInZone(instant, zone), 'en')} at ${timeInWords(instant, zone, 'en')}`
}
