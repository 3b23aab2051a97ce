import { distanceKm, type Position } from './distance.ts'

export interface DriveFigures {
  /** Road length over straight line: 1.2 in towns (Newell 1980) to 1.42 across the US (Boscoe 2012); 1.3 taken. */
  roadRatio: number
  speedKmh: number
  /** Parking, walking, ringing. */
  extraMinutes: number
}

/** Own choice until the company has measured its own. */
export const TOWN: DriveFigures = { roadRatio: 1.3, speedKmh: 40, extraMinutes: 5 }
export const RURAL: DriveFigures = { roadRatio: 1.3, speedKmh: 70, extraMinutes: 5 }

/** Minutes from one home to the next by an estimate, not by roads. At the same place nobody drives. */
export function driveMinutes(from: Position, to: Position, figures: DriveFigures = TOWN): number {
  const km = distanceKm(from, to)
  if (km === 0) return 0
  return ((km * figures.roadRatio) / figures.speedKmh) * 60 + figures.extraMinutes
}
