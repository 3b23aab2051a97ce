import { addDays, addMonths, addYears, type Day, earliest } from '../dates.ts'

/** Checked at each inspection and once a year. Common practice, no source. */
export const CHECK_MONTHS = 12
/** A strike nearby, a utility event or work at the panel: checked within a week. Common practice, no source. */
export const CHECK_DAYS_AFTER_EVENT = 7
/** Surges wear it out, not years; this is only when to think of a new one. Common practice, no source. */
export const PLANNED_LIFE_YEARS = 10

/** Next look at the indicator: a year after the last, or a week after a storm or other event since then. */
export function surgeCheckDue(checkedOn: Day, eventOn: Day | null = null): Day {
  const yearly = addMonths(checkedOn, CHECK_MONTHS)
  const afterEvent = eventOn && eventOn > checkedOn ? addDays(eventOn, CHECK_DAYS_AFTER_EVENT) : null
  return earliest(yearly, afterEvent)!
}

/** When to plan a replacement: the maker's life or ten years, from manufacture, or else from fitting. */
export function surgeReplaceBy(device: {
  manufacturedOn: Day | null
  installedOn: Day | null
  lifeYears?: number
}): Day | null {
  const from = device.manufacturedOn ?? device.installedOn
  return from && addYears(from, device.lifeYears ?? PLANNED_LIFE_YEARS)
}
