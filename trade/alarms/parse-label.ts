import { addYears, type Day, day, earliest, partsOf } from '../dates.ts'
import { dayInWords } from '../day-in-words.ts'
import { type Candidate, type Century, type Layout, LAYOUTS, type Precision } from './label-layouts.ts'
import { type Meaning, meaningOf } from './label-words.ts'
import type { Senses } from './life-figures.ts'

/** One date that a label may mean. A week, month or year that is not told to the day stands for its first day. */
export interface Reading {
  day: Day
  precision: Precision
  layout: Layout
  meaning: Meaning
  /** The part of the label that was read. */
  text: string
}

export interface ParsedLabel {
  /** The label as it was typed: always kept beside the date. */
  text: string
  /** Every date that the label can mean, earliest first. */
  readings: readonly Reading[]
  /** The reading to use: the only one, or the one that local custom prefers. Null = ask whoever sees the label. */
  chosen: Reading | null
  /** What to count from meanwhile: errs to an earlier replacement. */
  earliest: Reading | null
  /** More than one day fits, so somebody has to look again. */
  ambiguous: boolean
  /** Groups of signs that look like a date and cannot be one, with the reason. */
  rejected: readonly { text: string; why: string }[]
  /** One sentence for the technician. */
  why: string
}

export interface LabelContext {
  today: Day
  kindOfAlarm: Senses | null
  /** Null = the jurisdiction is not known: `03/04/2016` is then asked for. */
  isUs: boolean | null
}

/** Before 1980 hardly any home had an alarm; a maker prints an end no more than a working life ahead. Own bounds. */
const OLDEST = day('1980-01-01')
const YEARS_AHEAD = 30

interface Place {
  at: number
  end: number
  groups: string[]
  text: string
  read: (groups: readonly string[], century: Century) => (Candidate | null)[]
}

/** Reads the date on an alarm's label. Never throws: what cannot be read gives no reading and says why. */
export function parseLabel(text: string, context: LabelContext): ParsedLabel {
  const { places, rest } = findPlaces(text.toUpperCase())
  const readings: Reading[] = []
  const rejected: { text: string; why: string }[] = []
  places.forEach((place, index) => {
    const before = rest.slice(places[index - 1]?.end ?? 0, place.at)
    const after = places.length === 1 ? rest.slice(place.end) : ''
    const meaning = meaningOf(before) ?? meaningOf(after)
    const found = readPlace(place, meaning, context)
    if (found.length) readings.push(...found)
    else rejected.push({ text: place.text, why: whyRejected(place, meaning, context) })
  })
  readings.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0))
  return { text, readings, rejected, ...settle(readings, context), why: explain(readings, rejected, context) }
}

/** The readings of one meaning, settled as the whole label is: a label may print both its dates. */
export function readingsOf(
  label: ParsedLabel,
  meaning: Meaning,
  context: LabelContext,
): Pick<ParsedLabel, 'chosen' | 'earliest' | 'ambiguous'> {
  return settle(
    label.readings.filter((each) => each.meaning === meaning),
    context,
  )
}

/** A layout is a whole group of digits: never part of a longer one. Made once, since every alarm of a home is read. */
const PATTERNS = LAYOUTS.map(({ pattern, read }) => ({
  pattern: new RegExp(`(?<!\\d)${pattern}(?!\\d)`, 'g'),
  read,
}))

function findPlaces(text: string): { places: Place[]; rest: string } {
  const places: Place[] = []
  let rest = text
  for (const { pattern, read } of PATTERNS) {
    rest = rest.replace(pattern, (...found) => {
      const groups = found.slice(1, -2) as string[]
      const [whole, at] = [found[0] as string, found.at(-2) as number]
      places.push({ at, end: at + whole.length, groups, text: whole.trim(), read })
      return '#'.repeat(whole.length)
    })
  }
  return { places: places.sort((a, b) => a.at - b.at), rest }
}

function readPlace(place: Place, meaning: Meaning | null, context: LabelContext): Reading[] {
  const as = (sense: Meaning): Reading[] => {
    const { from, to, century } = bounds(sense, context.today)
    return place
      .read(place.groups, century)
      .filter((each): each is Candidate => each !== null && each.day >= from && each.day <= to)
      .map((each) => ({ ...each, meaning: sense, text: place.text }))
  }
  if (meaning) return as(meaning)
  const made = as('manufacture')
  // A bare date ahead of today on a CO alarm can only be its end; on a smoke alarm it never is.
  return made.length || context.kindOfAlarm !== 'co' ? made : as('replace-by')
}

function bounds(meaning: Meaning, today: Day): { from: Day; to: Day; century: Century } {
  if (meaning === 'replace-by') {
    const century: Century = (year) => (year < 80 ? 2000 : 1900) + year
    return { from: OLDEST, to: addYears(today, YEARS_AHEAD), century }
  }
  const thisYear = partsOf(today).year % 100
  return { from: OLDEST, to: today, century: (year) => (year <= thisYear ? 2000 : 1900) + year }
}

function whyRejected(place: Place, meaning: Meaning | null, { today }: LabelContext): string {
  const sense = meaning ?? 'manufacture'
  const days = place.read(place.groups, bounds(sense, today).century).filter((each) => each !== null)
  if (!days.length) return 'no such day in the calendar'
  if (days.every((each) => each.day < OLDEST)) return 'before 1980'
  return sense === 'replace-by' ? 'too far ahead' : 'in the future'
}

const ORDER: readonly Meaning[] = ['manufacture', 'replace-by', 'installed']

function settle(
  readings: readonly Reading[],
  { isUs }: LabelContext,
): Pick<ParsedLabel, 'chosen' | 'earliest' | 'ambiguous'> {
  const meaning = ORDER.find((each) => readings.some((reading) => reading.meaning === each))
  const fitting = readings.filter((each) => each.meaning === meaning)
  const first = earliest(...fitting.map((each) => each.day))
  const found = fitting.find((each) => each.day === first) ?? null
  if (fitting.every((each) => each.day === first)) return { chosen: found, earliest: found, ambiguous: false }
  const byCustom = fitting.every((each) => each.layout === 'MM/DD/YYYY' || each.layout === 'DD/MM/YYYY')
  const custom = fitting.filter((each) => each.layout === 'MM/DD/YYYY')
  const chosen = isUs && byCustom && custom.length === 1 ? custom[0]! : null
  return { chosen, earliest: found, ambiguous: true }
}

function explain(
  readings: readonly Reading[],
  rejected: readonly { text: string; why: string }[],
  context: LabelContext,
): string {
  const { chosen, ambiguous } = settle(readings, context)
  if (chosen && !ambiguous)
    return `${chosen.text} read as ${dayInWords(chosen.day, 'en')}, to the ${chosen.precision}.`
  if (chosen)
    return `${chosen.text} read month first, ${dayInWords(chosen.day, 'en')}, as is usual here: please confirm.`
  if (readings.length) {
    const days = readings.map((each) => `${dayInWords(each.day, 'en')} (${each.layout})`).join(' or ')
    return `Can mean ${days}: choose what the label says. The earliest counts until then.`
  }
  const reason = rejected.map((each) => `${each.text}: ${each.why}`).join('; ')
  return `No date can be read${reason ? ` (${reason})` : ''}.`
}
