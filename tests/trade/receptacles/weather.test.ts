import { describe, expect, test } from 'vitest'
import { day } from '../../../trade/dates.ts'
import { EQUIPMENT_FIELDS } from '../../../trade/equipment.ts'
import type { SpaceKind } from '../../../trade/property.ts'
import {
  inUseCover,
  judgeInUseCover,
  judgeWeatherResistant,
  type WeatherInputs,
  weatherResistant,
} from '../../../trade/receptacles/weather.ts'
import type { Verdict } from '../../../trade/verdict.ts'
import { articles, homeOf, item, spoken, under } from '../overcurrent/verdicts.ts'

const FIELDS = EQUIPMENT_FIELDS.receptacle
const missing = (verdict: Verdict) => (verdict.outcome === 'undetermined' ? verdict.missing : null)
const answer = (verdict: Verdict) => (verdict.outcome === 'finding' ? verdict.severity : verdict.outcome)
const inRoom = (kind: SpaceKind, details: object) => {
  const one = item('r', 'receptacle', details, { spaceId: 's' })
  return [one, { ...homeOf(one), spaces: [{ id: 's', kind, name: kind, level: 0 }] }] as const
}

describe('weather-resistant and in-use cover, NFPA 70 406.9 (from memory)', () => {
  const outside: WeatherInputs = {
    spaceKind: 'outdoors',
    place: 'wet',
    weatherResistant: false,
    inUseCover: false,
  }
  const weather = (inputs: Partial<WeatherInputs>, context = under('2023', '1999')) =>
    spoken(judgeWeatherResistant({ ...outside, ...inputs }, context))
  const cover = (inputs: Partial<WeatherInputs>, context = under('2023', '1999')) =>
    spoken(judgeInUseCover({ ...outside, ...inputs }, context))
  test.each([
    ['2005', 'improve'],
    ['2008', 'repair'],
  ] as const)('not weather-resistant, built under %s: %s', (built, severity) => {
    expect(weather({}, under('2023', built))).toMatchObject({
      rule: 'receptacles.weather-resistant',
      severity,
      technician: expect.stringMatching(/^Receptacle in a damp or wet place not weather-resistant; /),
    })
    expect(articles(weather({}, under('2023', '2008')))).toEqual(['406.8', '406.9'])
  })
  test.each([
    [{ spaceKind: 'bathroom', place: 'damp' }, 'improve'],
    [{ spaceKind: 'bathroom', place: 'wet' }, 'improve'],
    [{ place: undefined }, 'improve'],
    [{ place: 'general' }, 'improve'],
    [{ weatherResistant: true }, 'sound'],
    [{ spaceKind: 'bathroom', place: 'general' }, 'not-applicable'],
    [{ spaceKind: 'bathroom', place: undefined }, 'not-applicable'],
    [{ spaceKind: null, place: 'general' }, 'not-applicable'],
    [{ amps: 30 }, 'not-applicable'],
    [{ amps: 20 }, 'improve'],
    [{ spaceKind: null, place: undefined }, 'undetermined'],
    [{ weatherResistant: undefined }, 'undetermined'],
  ] as const)('weather, %o: %s', (inputs, expected) => {
    expect(answer(weather(inputs))).toBe(expected)
  })
  test('why not, and what is missing', () => {
    expect(weather({ spaceKind: 'hall', place: undefined })).toMatchObject({
      why: 'the place is dry',
      requiredToday: 'no',
    })
    expect(weather({ amps: 30 })).toMatchObject({ why: 'rated above 20 A', requiredToday: 'no' })
    expect(missing(weather({ spaceKind: null, place: undefined }))).toEqual([FIELDS.place.label])
    expect(missing(weather({ weatherResistant: undefined }))).toEqual([FIELDS.weatherResistant.label])
    expect(weather({ weatherResistant: undefined }, under('2005', '1999'))).toMatchObject({
      outcome: 'not-applicable',
    })
    const dropped = under('2023', '2017', [
      {
        requirement: 'receptacles.weather-resistant',
        effect: 'remove',
        from: day('2026-01-01'),
        source: 'Port Ansel 12-3',
      },
    ])
    expect(missing(weather({ weatherResistant: undefined }, dropped))).toEqual([
      FIELDS.weatherResistant.label,
    ])
    expect(missing(weather({}, under(null)))).toEqual(['Code edition in force'])
    expect(weather({ weatherResistant: true }).technician).toBe(
      'Weather-resistant receptacle in a damp or wet place.',
    )
  })
  test.each([
    ['2002', 'improve', 'unknown'],
    ['2005', 'repair', 'yes'],
  ] as const)('no in-use cover, built under %s: %s', (built, severity, requiredWhenBuilt) => {
    expect(cover({}, under('2023', built))).toMatchObject({
      rule: 'receptacles.in-use-cover',
      severity,
      requiredWhenBuilt,
      technician: expect.stringMatching(/^Receptacle in a wet place without an in-use cover; /),
    })
    expect(articles(cover({}, under('2023', '2005')))).toEqual(['406.8(B)', '406.9(B)'])
  })
  test('cover present, not asked for, or unknown', () => {
    expect(cover({ inUseCover: true })).toMatchObject({
      outcome: 'sound',
      technician: 'In-use cover present.',
    })
    expect(cover({ place: 'damp' })).toMatchObject({
      outcome: 'not-applicable',
      why: 'the place is not wet',
      requiredToday: 'no',
    })
    expect(cover({ spaceKind: 'hall', place: undefined })).toMatchObject({ outcome: 'not-applicable' })
    expect(missing(cover({ place: undefined }))).toEqual([FIELDS.place.label])
    expect(missing(cover({ place: undefined, spaceKind: null }))).toEqual([FIELDS.place.label])
    expect(missing(cover({ inUseCover: undefined }))).toEqual([FIELDS.inUseCover.label])
  })
  test('inputs of both', () => {
    const details = { place: 'wet', amps: 20, weatherResistant: true, inUseCover: false } as const
    const [one, home] = inRoom('outdoors', { ...details, slots: 'three' })
    for (const rule of [weatherResistant, inUseCover]) {
      expect(rule.inputs(one, home)).toEqual({ ...details, spaceKind: 'outdoors' })
      expect(rule.inputs(one, homeOf(one)).spaceKind).toBeNull()
      expect(rule.judge(outside, under(null)).rule).toBe(rule.id)
    }
    expect([weatherResistant.id, inUseCover.id]).toEqual([
      'receptacles.weather-resistant',
      'receptacles.in-use-cover',
    ])
  })
})
