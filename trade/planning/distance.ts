/** Mean radius of the Earth (IUGG), kilometres. */
const EARTH_RADIUS_KM = 6371.0088

/** Degrees, north and east positive. */
export interface Position {
  latitude: number
  longitude: number
}

const radians = (degrees: number) => (degrees * Math.PI) / 180

/** Central angle of the great circle between two places, radians. Haversine: exact for near places too. */
export function centralAngle(from: Position, to: Position): number {
  const [fromLatitude, toLatitude] = [radians(from.latitude), radians(to.latitude)]
  const halfChordSquared =
    Math.sin((toLatitude - fromLatitude) / 2) ** 2 +
    Math.cos(fromLatitude) * Math.cos(toLatitude) * Math.sin(radians(to.longitude - from.longitude) / 2) ** 2
  // Rounding can push it past one at the antipodes, where the arc sine would give no number.
  return 2 * Math.asin(Math.sqrt(Math.min(1, Math.max(0, halfChordSquared))))
}

export function distanceKm(from: Position, to: Position): number {
  return EARTH_RADIUS_KM * centralAngle(from, to)
}
