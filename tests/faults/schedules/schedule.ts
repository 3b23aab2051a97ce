import fc from 'fast-check'

// A schedule: what two people do on two devices and at the desk, and everything that goes wrong meanwhile.

/** What becomes of one request. `late`: it arrives after all, later, when the device has long given it up. */
export const FATES = [
  'ok',
  'lost',
  'answer-lost',
  'twice',
  'late',
  'late-too',
  'trouble-before',
  'trouble-after',
  'captive-page',
  'logged-out',
  'tab-dies-before',
  'tab-dies-after',
  'cut-off',
] as const
export type Fate = (typeof FATES)[number]

export type Which = 0 | 1

export type Step =
  | { do: 'answer'; at: Which; line: number; result: number; note: number }
  | { do: 'read'; at: Which; line: number; value: number }
  | { do: 'clear'; at: Which; line: number }
  | { do: 'find'; at: Which; finding: number; severity: number; text: number }
  | { do: 'drop-finding'; at: Which; finding: number }
  | { do: 'add-room'; at: Which; name: number }
  | { do: 'change-room'; at: Which; room: number; field: number; value: number }
  | { do: 'add-alarm'; at: Which; power: number }
  | { do: 'change-thing'; at: Which; thing: number; field: number; value: number }
  | { do: 'retire-thing'; at: Which; thing: number }
  | { do: 'note'; at: Which; text: number }
  | { do: 'photo'; at: Which; picture: number }
  | { do: 'step'; at: Which; step: number }
  | { do: 'complete'; at: Which }
  | { do: 'choose'; at: Which; which: number; choice: 'keep' | 'use' }
  | { do: 'mend'; at: Which; how: 'again' | 'mended' | 'aside' }
  | { do: 'send'; at: Which; fates: Fate[] }
  | { do: 'signal'; at: Which; on: boolean }
  | { do: 'tab-dies'; at: Which; after: number }
  | { do: 'dies-once-shown'; at: Which }
  | { do: 'clock-is-set'; at: Which; minutes: number }
  | { do: 'time-passes'; hours: number }
  | { do: 'late-ones-arrive' }
  | { do: 'server-restarts' }
  | { do: 'desk-answers'; line: number; result: number; note: number; blind: boolean }
  | { do: 'desk-reopens' }

export interface Schedule {
  /** Every line but those that the schedule touches is answered before it begins, so that it can be completed. */
  nearlyDone: boolean
  /** How far each device's clock is off, in minutes. */
  clocks: [number, number]
  /** Whether the office's clock moves between two requests: with one that stands, no time tells who was later. */
  time: 'stands' | 'moves'
  steps: Step[]
}

const at = fc.constantFrom<Which>(0, 1)
const few = fc.nat(3)
const words = fc.nat(20)

/** An hour, a day, a year; ahead or behind. */
const clock = fc.constantFrom(0, 0, 7, -60, 1440, -1440, 525_600, -525_600)

const kinds: Record<Step['do'], [number, fc.Arbitrary<object>]> = {
  answer: [6, fc.record({ at, line: few, result: few, note: words })],
  read: [3, fc.record({ at, line: few, value: fc.nat(200) })],
  clear: [2, fc.record({ at, line: few })],
  find: [3, fc.record({ at, finding: fc.nat(2), severity: fc.nat(2), text: words })],
  'drop-finding': [1, fc.record({ at, finding: fc.nat(2) })],
  'add-room': [1, fc.record({ at, name: words })],
  'change-room': [2, fc.record({ at, room: few, field: fc.nat(2), value: words })],
  'add-alarm': [1, fc.record({ at, power: fc.nat(1) })],
  'change-thing': [3, fc.record({ at, thing: few, field: fc.nat(2), value: words })],
  'retire-thing': [1, fc.record({ at, thing: few })],
  note: [1, fc.record({ at, text: words })],
  photo: [2, fc.record({ at, picture: fc.nat(4) })],
  step: [2, fc.record({ at, step: fc.nat(2) })],
  complete: [2, fc.record({ at })],
  choose: [2, fc.record({ at, which: fc.nat(1), choice: fc.constantFrom('keep', 'use') })],
  mend: [1, fc.record({ at, how: fc.constantFrom('again', 'mended', 'aside') })],
  send: [
    9,
    fc.record({
      at,
      fates: fc.array(
        fc.oneof({ weight: 2, arbitrary: fc.constant<Fate>('ok') }, fc.constantFrom(...FATES)),
        {
          maxLength: 4,
        },
      ),
    }),
  ],
  signal: [1, fc.record({ at, on: fc.boolean() })],
  'tab-dies': [2, fc.record({ at, after: fc.integer({ min: 1, max: 40 }) })],
  'dies-once-shown': [1, fc.record({ at })],
  'clock-is-set': [1, fc.record({ at, minutes: clock })],
  'time-passes': [0.5, fc.record({ hours: fc.constantFrom(1, 9, 40) })],
  'late-ones-arrive': [2, fc.constant({})],
  'server-restarts': [0.1, fc.constant({})],
  'desk-answers': [2, fc.record({ line: few, result: few, note: words, blind: fc.boolean() })],
  'desk-reopens': [0.5, fc.constant({})],
}

const stepOf = (names: readonly string[]) =>
  fc.oneof(
    ...Object.entries(kinds)
      .filter(([name]) => names.includes(name))
      .map(([name, [weight, more]]) => ({
        weight: weight * 10,
        arbitrary: more.map((each) => ({ do: name, ...each }) as Step),
      })),
  )
const step = stepOf(Object.keys(kinds))

/** Eight in the morning to five in the afternoon on one device without signal, whatever the other one does meanwhile. */
const dayOffline = fc
  .record({
    at,
    steps: fc.array(
      stepOf([
        'answer',
        'read',
        'clear',
        'find',
        'change-room',
        'change-thing',
        'photo',
        'step',
        'clock-is-set',
        'tab-dies',
      ]),
      { minLength: 8, maxLength: 24, size: 'max' },
    ),
  })
  .map(({ at, steps }): Step[] => [
    { do: 'signal', at, on: false },
    ...steps.flatMap((each, index): Step[] => [
      index % 3 === 0 ? { ...each } : ({ ...each, at } as Step),
      ...(index % 8 === 7 ? [{ do: 'time-passes', hours: 3 } as const] : []),
    ]),
    { do: 'signal', at, on: true },
    { do: 'send', at, fates: [] },
  ])

export const schedules: fc.Arbitrary<Schedule> = fc.record({
  nearlyDone: fc.boolean(),
  clocks: fc.tuple(clock, clock),
  time: fc.constantFrom('stands', 'moves'),
  steps: fc
    .array(
      fc.oneof({ weight: 120, arbitrary: step.map((each) => [each]) }, { weight: 1, arbitrary: dayOffline }),
      { minLength: 1, maxLength: 16, size: 'max' },
    )
    .map((parts) => parts.flat()),
})
