import { PROTECTION } from '../checklist/readings.ts'
import type { RuleContext } from '../editions.ts'
import type { ValuesOf } from '../fields.ts'
import {
  type Basis,
  finding,
  notApplicable,
  shortfall,
  sound,
  tidy,
  undetermined,
  type Words,
} from '../judging.ts'
import { SPACE_KINDS } from '../property.ts'
import { strictest, uniqueReferences } from '../requirement.ts'
import type { ReadingRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import { isNearWater, type SpaceFacts } from './place-of.ts'
import { roomClocks } from './protection.ts'
import { judgeTripTest, longestTripMs, type TripResult } from './trip-time.ts'

export type ProtectionReadings = ValuesOf<typeof PROTECTION>
export interface ProtectionReadingInputs extends Omit<ProtectionReadings, 'deviceAt'> {
  space: SpaceFacts | null
}

const HOMEOWNER = {
  none: 'The outlets here have no protection against shock from leaking current. Adding it is simple.',
  dead: 'The device that should protect you from shock here does not switch off. It should be replaced.',
  stuck: 'The device that protects you from shock here does not come back on. It should be replaced.',
  slow: 'The device that should protect you from shock here acts too slowly. It should be replaced.',
  early: 'The protective device here switches off too easily. It should be replaced.',
  elsewhere:
    'The protective device works, but this outlet may not be behind it. We would like to look further.',
  sound: 'The device that protects you from shock here switches off as it should.',
}

/** What the readings at one place say of its protection. NFPA 70 210.8; UL 943 for the device. */
export function judgeProtectionReading(inputs: ProtectionReadingInputs, context: RuleContext): Verdict {
  const basis = basisOf(inputs, context)
  const { protectedBy, ownButtonTrips, testerTrips, resets } = inputs
  const tried = [ownButtonTrips, testerTrips, inputs.tripMilliamps].some((each) => each != null)
  if (!protectedBy && !tried) return undetermined(basis, [PROTECTION.protectedBy.label])
  if (protectedBy === 'none') return judgeUnprotected(inputs, basis, context)
  // Near water a device that lets current through is a danger; elsewhere it is a defect.
  const gravity = isNearWater(inputs.space) ? 'unsafe' : 'repair'
  const fails = (technician: string, homeowner: string, severity = gravity as 'unsafe' | 'repair') =>
    finding(basis, severity, { technician, homeowner })
  if (ownButtonTrips === false) {
    return fails('Device does not trip by its own button: replace it.', HOMEOWNER.dead)
  }
  if (resets === false)
    return fails('Device trips but will not reset: replace it.', HOMEOWNER.stuck, 'repair')
  const trip = tripOf(inputs)
  if (trip && trip in TRIP_FAULTS) {
    const fault = TRIP_FAULTS[trip as keyof typeof TRIP_FAULTS]
    return fails(fault.technician(inputs), fault.homeowner, trip === 'trips-early' ? 'repair' : gravity)
  }
  const testerSilent = testerTrips === false && inputs.tripMilliamps == null
  if (testerSilent && inputs.pattern !== 'open-ground') {
    if (!inputs.pattern) return undetermined(basis, [PROTECTION.pattern.label])
    if (ownButtonTrips) {
      return finding(basis, 'investigate', {
        technician:
          'Own button trips, the tester does not: outlet not behind the device, or its ground is poor.',
        homeowner: HOMEOWNER.elsewhere,
      })
    }
    return fails('Tester does not trip the device on a grounded outlet.', HOMEOWNER.dead)
  }
  if (!ownButtonTrips && !testerTrips && trip !== 'pass-tripped') {
    return undetermined(basis, [PROTECTION.ownButtonTrips.label, ...TRIP_MISSING[trip ?? 'none']])
  }
  if (resets == null) return undetermined(basis, [PROTECTION.resets.label])
  return sound(basis, soundWords(inputs, testerSilent))
}

type TripEvidence = Exclude<TripResult, 'pass'> | 'pass-tripped' | 'pass-held' | 'none'

/** A trip current on the record means that the device tripped, unless the tester is said not to have tripped it. */
function tripOf({ tripMilliamps, tripMs, testerTrips }: ProtectionReadingInputs): TripEvidence | null {
  if (tripMilliamps == null) return null
  const tripped = testerTrips !== false
  const result = judgeTripTest({ milliamps: tripMilliamps, tripped, ms: tripMs })
  return result === 'pass' ? (tripped ? 'pass-tripped' : 'pass-held') : result
}

const TRIP_FAULTS = {
  'trips-early': {
    technician: (inputs: ProtectionReadingInputs) =>
      `Device trips at ${tidy(inputs.tripMilliamps!)} mA; it must hold below 4 mA.`,
    homeowner: HOMEOWNER.early,
  },
  holds: {
    technician: (inputs: ProtectionReadingInputs) =>
      `Device holds at ${tidy(inputs.tripMilliamps!)} mA; it must trip from 6 mA.`,
    homeowner: HOMEOWNER.dead,
  },
  'too-slow': {
    technician: ({ tripMilliamps, tripMs }: ProtectionReadingInputs) =>
      `Device takes ${tripMs} ms at ${tidy(tripMilliamps!)} mA, ${Math.ceil(longestTripMs(tripMilliamps!)!)} ms at most.`,
    homeowner: HOMEOWNER.slow,
  },
} as const

const TRIP_MISSING: Record<TripEvidence, string[]> = {
  none: [],
  'trips-early': [],
  holds: [],
  'too-slow': [],
  neither: ['A trip test at 6 mA or more'],
  'pass-held': ['A trip test at 6 mA or more'],
  'time-missing': [PROTECTION.tripMs.label],
  'pass-tripped': [],
}

function soundWords(inputs: ProtectionReadingInputs, testerSilent: boolean): Words {
  const { ownButtonTrips, tripMilliamps, tripMs } = inputs
  const how = ownButtonTrips ? 'by its own button' : 'by the tester'
  const time = tripMilliamps != null && tripMs != null ? `; ${tripMs} ms at ${tidy(tripMilliamps)} mA` : ''
  const limit = testerSilent ? '; a plug-in tester cannot trip it without an equipment ground' : ''
  return { technician: `Device trips ${how} and resets${time}${limit}.`, homeowner: HOMEOWNER.sound }
}

function judgeUnprotected(inputs: ProtectionReadingInputs, basis: Basis, context: RuleContext): Verdict {
  if (!inputs.space) return undetermined(basis, ['Room or place'])
  if (roomClocks(inputs.space, context).length === 0) {
    return notApplicable(basis, 'no edition asks for protection in such a room')
  }
  return shortfall(basis, context, {
    technician: `${SPACE_KINDS[inputs.space.kind]}: no ground-fault protection`,
    homeowner: HOMEOWNER.none,
  })
}

function basisOf(inputs: ProtectionReadingInputs, context: RuleContext): Basis {
  const { space, ...readings } = inputs
  const clocks = space ? roomClocks(space, context) : []
  const { tripMilliamps, tripMs } = inputs
  const limit = tripMilliamps == null ? null : longestTripMs(tripMilliamps)
  const figures: Figure[] = []
  if (tripMilliamps != null)
    figures.push({ label: PROTECTION.tripMilliamps.label, value: tripMilliamps, unit: 'mA' })
  if (tripMs != null) figures.push({ label: PROTECTION.tripMs.label, value: tripMs, unit: 'ms' })
  if (limit !== null) figures.push({ label: 'Longest trip time', value: limit, unit: 'ms' })
  return {
    rule: 'ground-fault.reading',
    inputs: { space: space?.kind ?? null, ...readings },
    references: uniqueReferences([
      ...clocks.flatMap((each) => each.references),
      { code: 'UL 943', row: 'class A: holds below 4 mA, trips from 6 mA within (20/I)^1.43 s' },
    ]),
    figures,
    whenBuilt: clocks.length > 0 ? strictest(clocks.map((each) => each.whenBuilt)) : 'unknown',
    today: clocks.length > 0 ? strictest(clocks.map((each) => each.today)) : 'unknown',
  }
}

export const protectionReading: ReadingRule<ProtectionReadings, ProtectionReadingInputs> = {
  id: 'ground-fault.reading',
  title: 'Ground-fault protection, as tried',
  inputs: (readings, { space }) => {
    const { protectedBy, ownButtonTrips, testerTrips, resets, pattern, tripMilliamps, tripMs } = readings
    return {
      space: space && { kind: space.kind, hasSink: space.hasSink, hasTubOrShower: space.hasTubOrShower },
      protectedBy,
      ownButtonTrips,
      testerTrips,
      resets,
      pattern,
      tripMilliamps,
      tripMs,
    }
  },
  judge: judgeProtectionReading,
}
