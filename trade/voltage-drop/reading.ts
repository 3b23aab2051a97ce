import { VOLTAGE } from '../checklist/readings.ts'
import { CONDUCTOR_MATERIALS, sizeLabel } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import type { ValuesOf } from '../fields.ts'
import { type Basis, finding, missingOf, sound, tidy, undetermined } from '../judging.ts'
import { COMMON_PRACTICE, editionRead, nec } from '../nec.ts'
import type { ReadingRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { ADVISED_TOTAL_PERCENT } from './expected.ts'
import { DISPUTED_TO_PERCENT, type DropReading, readDrop } from './measured.ts'

const LOADED = 'voltage-drop.loaded-receptacle'
const NO_LOAD = 'voltage-drop.voltage-at-receptacle'
const NEUTRAL_GROUND = 'voltage-drop.neutral-to-ground'

export type VoltageReadings = ValuesOf<typeof VOLTAGE>

const THICKER = 'Check load, wire length and size; then every splice and terminal back to the panel.'

/** The voltage lost under a test load, compared with what the run explains. */
export function judgeLoadedVoltage(readings: VoltageReadings, context: RuleContext): Verdict {
  const basis: Basis = {
    rule: LOADED,
    inputs: readings,
    references: [
      nec('210.19', editionRead(context), 'informational note: 5 % with the feeder'),
      COMMON_PRACTICE,
    ],
    whenBuilt: 'no',
    today: 'no',
  }
  const { volts, loadedVolts, loadAmps, runFeet, runSize, runMaterial } = readings
  if (!volts || loadedVolts == null) return undetermined(basis, missingDrop(readings))
  const run =
    runFeet != null && runSize && runMaterial ? { feet: runFeet, size: runSize, material: runMaterial } : null
  const drop = readDrop({ volts, loadedVolts, loadAmps, run })
  if (drop.measured.volts < 0) {
    return undetermined(basis, [
      `${VOLTAGE.loadedVolts.label}: above the voltage without load, measure again`,
    ])
  }
  const shown = { ...basis, figures: figuresOf(drop) }
  const measured = `${tidy(drop.measured.volts)} V, ${tidy(drop.measured.percent)} % lost under load`
  const explained = drop.expected
    ? `; ${runFeet} ft of ${sizeLabel(runSize!)} ${CONDUCTOR_MATERIALS[runMaterial!].toLowerCase()} explains ${tidy(drop.expected.percent)} %`
    : ''
  const technician = `${measured}${explained}`
  return verdictOn(shown, drop, technician)
}

function verdictOn(basis: Basis, drop: DropReading, technician: string): Verdict {
  const isBeyondDispute = drop.measured.percent > DISPUTED_TO_PERCENT
  switch (drop.suggests) {
    case 'within-advice':
      return sound(basis, {
        technician: `${technician}; ${ADVISED_TOTAL_PERCENT} % advised at most.`,
        homeowner: 'The outlet keeps its voltage under load, as it should.',
      })
    case 'high-resistance':
      return finding(basis, isBeyondDispute ? 'repair' : 'investigate', {
        technician: `${technician}: a high-resistance splice, terminal or panel joint, or another load on the circuit.`,
        homeowner:
          'The outlet loses more voltage under load than its wire explains. A loose joint on the way can get warm; we look for it.',
      })
    case 'long-run':
      return finding(basis, 'improve', {
        technician: `${technician}: long or thin wire; ${ADVISED_TOTAL_PERCENT} % advised at most.`,
        homeowner:
          'The outlet loses some voltage under load because its wire is long for its thickness. It is not unsafe; a thicker wire helps.',
      })
    case 'run-not-known':
      return finding(basis, isBeyondDispute ? 'repair' : 'investigate', {
        technician: `${technician}; ${ADVISED_TOTAL_PERCENT} % advised at most. ${THICKER}`,
        homeowner:
          'The outlet loses more voltage under load than is usual. The cause may be a long wire or a loose joint; we look for it.',
      })
  }
}

function missingDrop(readings: VoltageReadings): string[] {
  return missingOf(VOLTAGE, { ...readings, volts: readings.volts || null }, ['volts', 'loadedVolts'])
}

function figuresOf({ measured, expected, excessPercent }: DropReading): Figure[] {
  const figures: Figure[] = [
    { label: 'Measured drop', value: measured.volts, unit: 'V' },
    { label: 'Measured drop in percent', value: measured.percent, unit: 'percent' },
  ]
  if (expected && excessPercent !== null) {
    figures.push(
      { label: 'Expected of the run', value: expected.percent, unit: 'percent' },
      { label: 'Beyond the run', value: excessPercent, unit: 'percent' },
    )
  }
  return figures
}

/** Hot to neutral without load: usual, and the band outside which to investigate (FIPS 94 as quoted). */
const USUAL_VOLTS = { from: 115, to: 125 }
const BEARABLE_VOLTS = { from: 100, to: 130 }
/** A reading of a 240 V outlet is judged by half of it. */
const TWO_LEGS_ABOVE_VOLTS = 180

/** The voltage that stands at the receptacle before any load. */
export function judgeVoltage({ volts }: Pick<VoltageReadings, 'volts'>, _context: RuleContext): Verdict {
  const basis: Basis = {
    rule: NO_LOAD,
    inputs: { volts },
    references: [COMMON_PRACTICE],
    whenBuilt: 'no',
    today: 'no',
  }
  if (volts == null) return undetermined(basis, [VOLTAGE.volts.label])
  const perLeg = volts > TWO_LEGS_ABOVE_VOLTS ? volts / 2 : volts
  const shown: Basis = { ...basis, figures: [{ label: 'Voltage of one leg', value: perLeg, unit: 'V' }] }
  const technician = `${tidy(volts)} V without load; ${USUAL_VOLTS.from} to ${USUAL_VOLTS.to} V per leg is usual`
  if (perLeg < BEARABLE_VOLTS.from || perLeg > BEARABLE_VOLTS.to) {
    return finding(shown, 'investigate', {
      technician: `${technician}. Suspect the service neutral first; stop and call the utility if legs differ.`,
      homeowner:
        'The voltage at this outlet is outside what equipment bears. Please unplug electronics until the cause is found.',
    })
  }
  if (perLeg < USUAL_VOLTS.from || perLeg > USUAL_VOLTS.to) {
    return finding(shown, 'watch', {
      technician: `${technician}.`,
      homeowner: 'The voltage at this outlet is a little off the usual; we measure it again next time.',
    })
  }
  return sound(shown, {
    technician: `${technician}.`,
    homeowner: 'The voltage at this outlet is as it should be.',
  })
}

/** Neutral to ground under load above this is suspicious, as an analyser's manual has it. */
const NEUTRAL_GROUND_VOLTS = 2

export function judgeNeutralToGround(
  { neutralGroundVolts: volts }: Pick<VoltageReadings, 'neutralGroundVolts'>,
  _context: RuleContext,
): Verdict {
  const basis: Basis = {
    rule: NEUTRAL_GROUND,
    inputs: { neutralGroundVolts: volts },
    references: [COMMON_PRACTICE],
    whenBuilt: 'no',
    today: 'no',
  }
  if (volts == null) return undetermined(basis, [VOLTAGE.neutralGroundVolts.label])
  const shown: Basis = { ...basis, figures: [{ label: 'Neutral to ground', value: volts, unit: 'V' }] }
  if (volts > NEUTRAL_GROUND_VOLTS) {
    return finding(shown, 'investigate', {
      technician: `${tidy(volts)} V neutral to ground under load: over ${NEUTRAL_GROUND_VOLTS} V, look for a weak neutral or a shared one.`,
      homeowner:
        'The return wire of this outlet carries more voltage than is usual; we look for a weak joint in it.',
    })
  }
  return sound(shown, {
    technician: `${tidy(volts)} V neutral to ground under load: ${NEUTRAL_GROUND_VOLTS} V at most.`,
    homeowner: 'The return wire of this outlet is in order.',
  })
}

export const loadedReceptacle: ReadingRule<VoltageReadings, VoltageReadings> = {
  id: LOADED,
  title: 'Voltage under load',
  inputs: ({ volts, loadedVolts, loadAmps, runFeet, runSize, runMaterial }) => ({
    volts,
    loadedVolts,
    loadAmps,
    runFeet,
    runSize,
    runMaterial,
  }),
  judge: judgeLoadedVoltage,
}

export const voltageAtReceptacle: ReadingRule<VoltageReadings, Pick<VoltageReadings, 'volts'>> = {
  id: NO_LOAD,
  title: 'Voltage without load',
  inputs: ({ volts }) => ({ volts }),
  judge: judgeVoltage,
}

export const neutralToGround: ReadingRule<VoltageReadings, Pick<VoltageReadings, 'neutralGroundVolts'>> = {
  id: NEUTRAL_GROUND,
  title: 'Neutral to ground under load',
  inputs: ({ neutralGroundVolts }) => ({ neutralGroundVolts }),
  judge: judgeNeutralToGround,
}
