import { addMonths, type Day, partsOf } from '../dates.ts'

/** The k-th repeat of a day, counted from the day itself: 31 January, 28 February, 31 March, never 28 March. */
export function repeat(anchor: Day, everyMonths: number, times: number): Day {
  return addMonths(anchor, everyMonths * times)
}

/** How many whole repeats have come by `today`; 0 before the first. */
export function repeatsUntil(anchor: Day, everyMonths: number, today: Day): number {
  const [from, to] = [partsOf(anchor), partsOf(today)]
  const guess = Math.floor(((to.year - from.year) * 12 + to.month - from.month) / everyMonths)
  const times = repeat(anchor, everyMonths, guess) > today ? guess - 1 : guess
  return Math.max(0, times)
}

/** The latest repeat on or before `today`; null before the first one. */
export function lastRepeat(anchor: Day, everyMonths: number, today: Day): Day | null {
  const times = repeatsUntil(anchor, everyMonths, today)
  return times > 0 ? repeat(anchor, everyMonths, times) : null
}

/** The first repeat after `after`. */
export function nextRepeat(anchor: Day, everyMonths: number, after: Day): Day {
  return repeat(anchor, everyMonths, repeatsUntil(anchor, everyMonths, after) + 1)
}
