import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { TORQUE } from '../../../trade/checklist/readings.ts'
import type { ConductorSize } from '../../../trade/conductors/sizes.ts'
import type { Edition } from '../../../trade/editions.ts'
import { fromLbfInches, toLbfInches, TORQUE_UNITS } from '../../../trade/torque/convert.ts'
import {
  defaultTorque,
  DEVICE_SCREW_LBF_IN,
  type Screw,
  smallScrewTorque,
  type SocketInches,
} from '../../../trade/torque/defaults.ts'
import {
  governingTorque,
  judgeTorque,
  RECHECK_CAUTION,
  torqueReading,
  type TorqueReadings,
} from '../../../trade/torque/reading.ts'
import { articles, homeOf, spoken, under } from '../overcurrent/verdicts.ts'

describe('units', () => {
  test('NIST SP 811 appendix B: 1 lbf·in = 0.1129848 N·m, 1 lbf·ft = 1.355818 N·m', () => {
    expect(fromLbfInches(1, 'Nm')).toBeCloseTo(0.1129848, 7)
    expect(fromLbfInches(toLbfInches(1, 'lbfFt'), 'Nm')).toBeCloseTo(1.355818, 6)
    expect(toLbfInches(1, 'lbfFt')).toBe(12)
    expect(toLbfInches(35, 'lbfIn')).toBe(35)
    expect(TORQUE_UNITS).toEqual({ lbfIn: 'lbf·in', lbfFt: 'lbf·ft', Nm: 'N·m' })
  })
  test('there and back gives the same', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 5000, noNaN: true }),
        fc.constantFrom('lbfIn', 'lbfFt', 'Nm'),
        (value, unit) => {
          expect(fromLbfInches(toLbfInches(value, unit), unit)).toBeCloseTo(value, 8)
        },
      ),
    )
  })
})

describe('published defaults, NFPA 70 Annex I (UL 486A-486B)', () => {
  const rows: [ConductorSize[], (number | null)[]][] = [
    [
      ['18', '14', '12', '10'],
      [20, 35, 80, 75],
    ],
    [['8'], [25, 40, 80, 75]],
    [
      ['6', '4'],
      [35, 45, 165, 110],
    ],
    [['3'], [35, 50, 275, 150]],
    [['2'], [40, 50, 275, 150]],
    [['1'], [null, 50, 275, 150]],
    [
      ['1/0', '2/0'],
      [null, 50, 385, 180],
    ],
    [
      ['3/0', '4/0'],
      [null, 50, 500, 250],
    ],
    [
      ['250', '300', '350'],
      [null, 50, 650, 325],
    ],
    [
      ['400', '900'],
      [null, null, null, null],
    ],
  ]
  const screws: Exclude<Screw, 'socket'>[] = ['slot-small', 'slot-large', 'split-bolt', 'hex']
  test.each(rows.flatMap(([sizes, values]) => sizes.map((size) => [size, values] as const)))(
    '%s AWG or kcmil: small slot, large slot, split bolt, hexagon %j lbf·in',
    (size, values) => {
      expect(screws.map((screw) => defaultTorque({ screw, size }))).toEqual(values)
    },
  )
  test.each<[SocketInches, number]>([
    ['1/8', 45],
    ['5/32', 100],
    ['3/16', 120],
    ['7/32', 150],
    ['1/4', 200],
    ['5/16', 275],
    ['3/8', 375],
    ['1/2', 500],
  ])('socket screw, %s in across flats: %i lbf·in', (socketInches, lbfIn) => {
    expect(defaultTorque({ screw: 'socket', socketInches })).toBe(lbfIn)
  })
  test.each([
    [0.15, 0.04, 7],
    [0.15, 0.05, 9],
    [0.2, 0.047, 7],
    [0.2, 0.048, 12],
    [0.25, 0.04, 9],
    [0.25, 0.06, 12],
    [0.26, 0.04, null],
  ])('screws under No. 10, slot %f in long and %f in wide: %s lbf·in', (lengthInches, widthInches, lbfIn) => {
    expect(smallScrewTorque('12', { lengthInches, widthInches })).toBe(lbfIn)
    expect(smallScrewTorque('8', { lengthInches, widthInches })).toBe(lbfIn)
    expect(smallScrewTorque('6', { lengthInches, widthInches })).toBeNull()
  })
  test('UL 498: device screws 14 lbf·in with 12 AWG', () => {
    expect(DEVICE_SCREW_LBF_IN).toBe(14)
  })
})

describe('a reading against its value', () => {
  const judge = (readings: TorqueReadings, now: Edition | null = '2023', built: Edition | null = null) =>
    spoken(judgeTorque(readings, under(now, built)))
  const label: TorqueReadings = { torque: 250, torqueUnit: 'lbfIn', labelTorque: 250 }

  test('the label comes first', () => {
    const all: TorqueReadings = { ...label, screw: 'slot-large', conductorSize: '12' }
    expect(governingTorque(all)).toEqual({ lbfIn: 250, from: 'label' })
    expect(governingTorque({ ...all, labelTorque: undefined })).toEqual({ lbfIn: 35, from: 'default' })
    expect(governingTorque({ labelTorque: 10, torqueUnit: 'lbfFt' })).toEqual({ lbfIn: 120, from: 'label' })
  })
  test.each([
    [225, 'sound', undefined],
    [275, 'sound', undefined],
    [224, 'finding', 'repair'],
    [276, 'finding', 'investigate'],
  ])(
    '%i against 250 lbf·in: %s %s (tolerance of a tenth: common practice, no source)',
    (torque, outcome, severity) => {
      const verdict = judge({ ...label, torque })
      expect(verdict.outcome).toBe(outcome)
      if (severity) {
        expect(verdict).toMatchObject({ severity })
        expect(verdict.technician).toContain(RECHECK_CAUTION)
      }
      expect(verdict.figures).toEqual([
        { label: 'Torque read', value: torque, unit: 'lbfIn' },
        { label: 'Torque on the label', value: 250, unit: 'lbfIn' },
      ])
    },
  )
  test('says what was read, in its own unit, and where the value stands', () => {
    expect(judge(label)).toMatchObject({
      rule: 'torque.reading-against-value',
      technician: '250 lbf·in read, 250 lbf·in by label.',
      homeowner: 'The connection is as tight as it should be.',
    })
    expect(judge({ torque: 20, torqueUnit: 'Nm', labelTorque: 28.2 })).toMatchObject({
      severity: 'repair',
      technician: `20 N·m read, 28.2 N·m by label: loose. ${RECHECK_CAUTION}`,
    })
    expect(judge({ torque: 3, torqueUnit: 'lbfFt', screw: 'slot-large', conductorSize: '12' })).toMatchObject(
      {
        outcome: 'sound',
        technician: '3 lbf·ft read, 2.92 lbf·ft by default for slotted, larger slot, 12 AWG.',
      },
    )
    expect(
      judge({ torque: 300, torqueUnit: 'lbfIn', screw: 'socket', socketInches: '1/4', conductorSize: '2' }),
    ).toMatchObject({
      severity: 'investigate',
      technician: `300 lbf·in read, 200 lbf·in by default for socket (hexagon key): over. Look for a damaged conductor or lug. ${RECHECK_CAUTION}`,
    })
  })
  test('defaults are cited from Annex I; the duty since 2017', () => {
    const verdict = judge(
      { torque: 35, torqueUnit: 'lbfIn', screw: 'slot-large', conductorSize: '12' },
      '2023',
      '2014',
    )
    expect(articles(verdict)).toEqual(['Annex I', '110.14(D)'])
    expect(verdict).toMatchObject({ requiredToday: 'yes', requiredWhenBuilt: 'no' })
    expect(verdict.figures[1]).toEqual({ label: 'Published default', value: 35, unit: 'lbfIn' })
    expect(articles(judge(label))).toEqual(['110.14(D)'])
    expect(judge(label, '2014')).toMatchObject({ requiredToday: 'no' })
  })
  test('a tool checked to the label needs no reading', () => {
    expect(judge({ toolCheckedToLabel: true })).toMatchObject({
      outcome: 'sound',
      technician: 'Tightened with a torque tool to the label.',
    })
    expect(
      judge({ toolCheckedToLabel: true, torque: 100, torqueUnit: 'lbfIn', labelTorque: 250 }).outcome,
    ).toBe('finding')
  })
  test('what is not known', () => {
    const missing = (readings: TorqueReadings) => {
      const verdict = judge(readings)
      return verdict.outcome === 'undetermined' ? verdict.missing : null
    }
    const { torque, torqueUnit, labelTorque, screw, socketInches, conductorSize } = TORQUE
    expect(missing({})).toEqual([torque.label, torqueUnit.label, labelTorque.label, screw.label])
    expect(missing({ torque: 20, labelTorque: 20 })).toEqual([torqueUnit.label])
    expect(missing({ torque: 20, torqueUnit: 'Nm' })).toEqual([labelTorque.label, screw.label])
    expect(missing({ torque: 20, torqueUnit: 'Nm', screw: 'socket' })).toEqual([
      labelTorque.label,
      socketInches.label,
    ])
    expect(missing({ torque: 20, torqueUnit: 'Nm', screw: 'hex' })).toEqual([
      labelTorque.label,
      conductorSize.label,
    ])
    expect(missing({ torque: 20, torqueUnit: 'Nm', screw: 'slot-small', conductorSize: '1' })).toEqual([
      labelTorque.label,
    ])
    expect(missing({ torqueUnit: 'Nm', labelTorque: 20 })).toEqual([torque.label])
    expect(missing({ toolCheckedToLabel: false })).toContain(torque.label)
  })
  test('takes from the readings what it needs', () => {
    const readings: TorqueReadings = {
      toolCheckedToLabel: false,
      torque: 1,
      torqueUnit: 'Nm',
      labelTorque: 2,
      screw: 'hex',
      socketInches: '1/8',
      conductorMaterial: 'copper',
      conductorSize: '2',
    }
    expect(torqueReading.inputs(readings, { space: null }, homeOf())).toEqual(readings)
    expect(torqueReading).toMatchObject({
      id: 'torque.reading-against-value',
      title: 'Torque against its value',
    })
  })
})
