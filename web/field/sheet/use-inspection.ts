import { useMemo } from 'react'
import { useSheet } from '../offline/use-field.ts'
import { type Inspection, inspectionOf } from './inspection-of.ts'

/** Undefined while it loads; null when this device does not hold the visit. */
export function useInspection(visitId: string): Inspection | null | undefined {
  const sheet = useSheet(visitId)
  return useMemo(() => sheet && inspectionOf(sheet), [sheet])
}
