/** Times of one day at the home, `HH:MM`; both ends are on time. */
export interface ArrivalWindow {
  from: string
  to: string
}
export type Punctuality = 'early' | 'on-time' | 'late'

export function punctuality(arrival: string, { from, to }: ArrivalWindow): Punctuality {
  if (arrival < from) return 'early'
  return arrival <= to ? 'on-time' : 'late'
}

/** Minutes after the window closed; 0 when on time or early. */
export function minutesLate(arrival: string, { to }: ArrivalWindow): number {
  return Math.max(0, minutesOf(arrival) - minutesOf(to))
}

function minutesOf(time: string): number {
  return Number(time.slice(0, 2)) * 60 + Number(time.slice(3, 5))
}
