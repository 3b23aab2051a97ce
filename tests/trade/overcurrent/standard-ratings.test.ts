import { expect, test } from 'vitest'
import { anAmps } from '../../../trade/overcurrent/words.ts'
import {
  exceedsInsulation,
  largestDeviceAmps,
  standardRatingFrom,
  standardRatings,
  standardRatingUpTo,
} from '../../../trade/overcurrent/standard-ratings.ts'

/** NFPA 70 240.6(A); above 600 A from memory. */
const PRINTED = [
  15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450,
  500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
]

test('NFPA 70 240.6(A): the standard ratings; 10 A joined with 2023', () => {
  expect(standardRatings('2020')).toEqual(PRINTED)
  expect(standardRatings('2023')).toEqual([10, ...PRINTED])
})

test('the rating from and up to an ampacity', () => {
  expect(standardRatingFrom(85, '2023')).toBe(90)
  expect(standardRatingFrom(90, '2023')).toBe(90)
  expect(standardRatingFrom(6001, '2023')).toBeNull()
  expect(standardRatingUpTo(85, '2023')).toBe(80)
  expect(standardRatingUpTo(80, '2023')).toBe(80)
  expect(standardRatingUpTo(9, '2023')).toBeNull()
  expect(standardRatingUpTo(14, '2020')).toBeNull()
  expect(standardRatingFrom(5, '2020')).toBe(15)
  expect(standardRatingFrom(5, '2023')).toBe(10)
})

test.each([
  // NFPA 70 240.4(B), from memory
  [85, false, 90],
  [85, true, 85],
  [90, false, 90],
  [701, false, 800],
  [801, false, 801],
  [0, false, 0],
])(
  'from memory, 240.4(B): %f A of conductor, several receptacles %s: %f A at most',
  (amps, receptacles, most) => {
    expect(largestDeviceAmps(amps, { feedsSeveralReceptacles: receptacles }, '2023')).toBe(most)
  },
)

test('beyond the insulation means beyond its next standard size', () => {
  expect(exceedsInsulation(30, 25, '2023')).toBe(true)
  expect(exceedsInsulation(25, 25, '2023')).toBe(false)
  expect(exceedsInsulation(100, 95, '2023')).toBe(false)
  expect(exceedsInsulation(110, 95, '2023')).toBe(true)
})

test('ratings are read as people say them', () => {
  const an = [8, 11, 18, 80, 85, 800, 8.5]
  const a = [7, 15, 20, 30, 100, 110, 180, 1.8]
  expect(an.map(anAmps)).toEqual(an.map((amps) => `an ${amps} A`))
  expect(a.map(anAmps)).toEqual(a.map((amps) => `a ${amps} A`))
})
