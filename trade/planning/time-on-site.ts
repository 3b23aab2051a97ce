export interface SiteFacts {
  bedrooms: number | null
  panels: number | null
  /** Whole years since the home was built. */
  ageYears: number | null
}

/** Own defaults, to be replaced by the company's history after thirty jobs; published figures run from 1 to 6 hours. */
const BASE_MINUTES = 60
const PER_BEDROOM_MINUTES = 20
const PER_FURTHER_PANEL_MINUTES = 15
const OLD_HOME_MINUTES = 30
const OLD_HOME_YEARS = 40
/** Taken where nobody has counted them: the commonest home. Own choice. */
const USUAL_BEDROOMS = 3

/** Minutes to plan for an inspection. What is unknown counts as usual, and the answer says so. */
export function inspectionMinutes({ bedrooms, panels, ageYears }: SiteFacts): {
  minutes: number
  assumed: boolean
} {
  const minutes =
    BASE_MINUTES +
    PER_BEDROOM_MINUTES * (bedrooms ?? USUAL_BEDROOMS) +
    PER_FURTHER_PANEL_MINUTES * Math.max(0, (panels ?? 1) - 1) +
    (ageYears !== null && ageYears >= OLD_HOME_YEARS ? OLD_HOME_MINUTES : 0)
  return { minutes, assumed: bedrooms === null || panels === null || ageYears === null }
}
