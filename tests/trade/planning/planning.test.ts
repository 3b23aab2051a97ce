import fc from 'fast-check'
import { getDistance } from 'geolib'
import { describe, expect, test } from 'vitest'
import { minutesLate, punctuality } from '../../../trade/planning/arrival-window.ts'
import { centralAngle, distanceKm, type Position } from '../../../trade/planning/distance.ts'
import { driveMinutes, RURAL, TOWN } from '../../../trade/planning/drive-time.ts'
import { inspectionMinutes } from '../../../trade/planning/time-on-site.ts'

const at = (latitude: number, longitude: number): Position => ({ latitude, longitude })

describe('great circle', () => {
  const LAX = at(33 + 57 / 60, -(118 + 24 / 60))
  const JFK = at(40 + 38 / 60, -(73 + 47 / 60))

  test('GC1, classic formulary example: LAX to JFK 0.623585 rad, 2143.73 nm, 3972.86 km', () => {
    expect(centralAngle(LAX, JFK)).toBeCloseTo(0.623585, 6)
    expect((centralAngle(LAX, JFK) * 180 * 60) / Math.PI).toBeCloseTo(2143.73, 1)
    expect(distanceKm(LAX, JFK)).toBeCloseTo(3972.86, 1)
  })
  test.each([
    [at(0, 0), at(1, 0), 111.195, '1° of latitude'],
    [at(60, 0), at(60, 1), 55.597, '1° of longitude at 60° N'],
    [at(0, 0), at(0, 180), 20_015.11, 'antipodes'],
    [at(90, 0), at(-90, 0), 20_015.11, 'pole to pole'],
    [at(40, -75), at(40.1, -74.9), 14.003, 'GC3'],
    [at(40, -75), at(40, -75), 0, 'the same place'],
    [at(0, 179.5), at(0, -179.5), 111.195, 'over the date line'],
  ])('GC2: %j to %j: %s km (%s, computed)', (from, to, km) => {
    expect(distanceKm(from, to)).toBeCloseTo(km, 2)
  })
  const anywhere = fc.record({
    latitude: fc.double({ min: -90, max: 90, noNaN: true }),
    longitude: fc.double({ min: -180, max: 180, noNaN: true }),
  })
  test('against geolib, any two places: its radius is 6378.137 km', () => {
    fc.assert(
      fc.property(anywhere, anywhere, (from, to) => {
        const metres = getDistance(from, to, 0.001)
        expect(distanceKm(from, to)).toBeCloseTo((metres / 1000) * (6371.0088 / 6378.137), 2)
      }),
    )
  })
  test('never a number that is none, the same both ways', () => {
    fc.assert(
      fc.property(anywhere, (from) => {
        const opposite = at(-from.latitude, from.longitude > 0 ? from.longitude - 180 : from.longitude + 180)
        expect(distanceKm(from, opposite)).toBeCloseTo(20_015.11, 1)
        expect(distanceKm(opposite, from)).toBeCloseTo(distanceKm(from, opposite), 6)
      }),
    )
  })
})

describe('drive time', () => {
  test('GC3: 14.003 km × 1.3 at 40 km/h and 5 minutes: 32.3 minutes (computed)', () => {
    expect(driveMinutes(at(40, -75), at(40.1, -74.9))).toBeCloseTo(32.306, 2)
    expect(driveMinutes(at(40, -75), at(40.1, -74.9), TOWN)).toBeCloseTo(32.306, 2)
  })
  test('70 km/h in the country', () => {
    expect(driveMinutes(at(40, -75), at(40.1, -74.9), RURAL)).toBeCloseTo(20.603, 2)
  })
  test('nobody drives to where they are', () => {
    expect(driveMinutes(at(40, -75), at(40, -75))).toBe(0)
  })
  test('figures (own choice)', () => {
    expect(TOWN).toEqual({ roadRatio: 1.3, speedKmh: 40, extraMinutes: 5 })
    expect(RURAL).toEqual({ roadRatio: 1.3, speedKmh: 70, extraMinutes: 5 })
  })
})

describe('time on site (own choice: 60 + 20 for each bedroom + 15 for each further panel + 30 from 40 years)', () => {
  test.each([
    [{ bedrooms: 3, panels: 1, ageYears: 10 }, 120, false],
    [{ bedrooms: 3, panels: 3, ageYears: 40 }, 180, false],
    [{ bedrooms: 3, panels: 1, ageYears: 39 }, 120, false],
    [{ bedrooms: 0, panels: 0, ageYears: 0 }, 60, false],
    [{ bedrooms: null, panels: 1, ageYears: 10 }, 120, true],
    [{ bedrooms: 2, panels: null, ageYears: 10 }, 100, true],
    [{ bedrooms: 2, panels: 1, ageYears: null }, 100, true],
  ])('%j: %i minutes, assumed %s', (facts, minutes, assumed) => {
    expect(inspectionMinutes(facts)).toEqual({ minutes, assumed })
  })
})

describe('arrival window', () => {
  const morning = { from: '10:00', to: '12:00' }
  test.each([
    ['09:59', 'early', 0],
    ['10:00', 'on-time', 0],
    ['12:00', 'on-time', 0],
    ['12:01', 'late', 1],
    ['13:30', 'late', 90],
  ])('WN1: 10:00–12:00, arrival %s: %s, %i minutes late', (arrival, expected, late) => {
    expect(punctuality(arrival, morning)).toBe(expected)
    expect(minutesLate(arrival, morning)).toBe(late)
  })
  test('minutes count over the hour', () => {
    expect(minutesLate('13:05', { from: '10:30', to: '12:50' })).toBe(15)
  })
})
