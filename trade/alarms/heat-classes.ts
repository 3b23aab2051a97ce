/** A class of heat alarm: its rating, the hottest ceiling it may hang at, and the colour it is marked with, all in °F. */
export interface HeatClass {
  name: string
  fromF: number
  toF: number
  maxCeilingF: number
  colour: string | null
}

/** NFPA 72 Table 17.6.2.1. */
export const HEAT_CLASSES: readonly HeatClass[] = [
  { name: 'Low', fromF: 100, toF: 134, maxCeilingF: 80, colour: null },
  { name: 'Ordinary', fromF: 135, toF: 174, maxCeilingF: 115, colour: null },
  { name: 'Intermediate', fromF: 175, toF: 249, maxCeilingF: 155, colour: 'white' },
  { name: 'High', fromF: 250, toF: 324, maxCeilingF: 230, colour: 'blue' },
  { name: 'Extra high', fromF: 325, toF: 399, maxCeilingF: 305, colour: 'red' },
  { name: 'Very extra high', fromF: 400, toF: 499, maxCeilingF: 380, colour: 'green' },
  { name: 'Ultra high', fromF: 500, toF: 575, maxCeilingF: 480, colour: 'orange' },
]

/** A rating stands at least this far above the hottest that its ceiling gets. NFPA 72 §17.6.2. */
export const HEAT_MARGIN_F = 20

/** Null for a rating outside the table. */
export function heatClassOf(ratingF: number): HeatClass | null {
  return HEAT_CLASSES.find((each) => ratingF >= each.fromF && ratingF <= each.toF) ?? null
}
