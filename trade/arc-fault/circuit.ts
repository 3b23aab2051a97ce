import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS, type EquipmentKind, type EquipmentOf } from '../equipment.ts'
import { type Basis, notApplicable, shortfall, sound, undetermined } from '../judging.ts'
import { childrenOf, type Home, spaceOf } from '../home.ts'
import { roomsNamed } from '../panels/directory-line.ts'
import { SPACE_KINDS, type SpaceKind } from '../property.ts'
import { clocksOf, NEWEST_EDITION, strictest, uniqueReferences, valueIn } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { ARC_FAULT_RATINGS, ARC_FAULT_RULE, arcFaultRequirement } from './places.ts'

type Serves = NonNullable<DetailsOf<'circuit'>['serves']>

export interface ArcFaultInputs extends Pick<
  DetailsOf<'circuit'>,
  'ratingAmps' | 'poles' | 'multiwire' | 'device' | 'serves' | 'outletArcFault'
> {
  /** Kinds of rooms that the circuit feeds, as far as the record tells. */
  rooms: readonly SpaceKind[]
}

/** Uses that name their room. Alarm outlets hang in bedrooms and halls. */
const ROOMS_OF_USE: Partial<Record<Serves, readonly SpaceKind[]>> = {
  'small-appliance': ['kitchen'],
  dishwasher: ['kitchen'],
  disposer: ['kitchen'],
  laundry: ['laundry'],
  bathroom: ['bathroom'],
  alarms: ['bedroom', 'hall'],
}
const WITHOUT_RECEPTACLES: readonly (Serves | undefined)[] = ['lighting', 'alarms']

/** Kinds of equipment that may name a circuit as what feeds them. */
export const FED_BY_CIRCUITS: readonly EquipmentKind[] = [
  'receptacle',
  'switch',
  'luminaire',
  'alarm',
  'disconnect',
  'panel',
  'other',
]

/** Rooms known from the circuit's own place, from what hangs on it, from its use, or else from its directory line. */
export function roomsOf(circuit: EquipmentOf<'circuit'>, home: Home): SpaceKind[] {
  // A surge protector beside the panel says nothing of the rooms that its circuit feeds.
  const fed = childrenOf(home, circuit.id).filter(({ kind }) => FED_BY_CIRCUITS.includes(kind))
  const recorded = [circuit, ...fed].flatMap((each) => spaceOf(home, each)?.kind ?? [])
  const { serves, directory } = circuit.details
  const known = new Set([...recorded, ...((serves && ROOMS_OF_USE[serves]) ?? [])])
  return known.size > 0 ? [...known].toSorted() : roomsNamed(directory ?? '')
}

/** Both clocks over all rooms that the circuit feeds; null where no edition lists any of them. */
export function arcFaultBasis(inputs: ArcFaultInputs, context: RuleContext): Basis | null {
  const hasReceptacles = !WITHOUT_RECEPTACLES.includes(inputs.serves)
  const clocks = inputs.rooms
    .toSorted()
    .map((room) => arcFaultRequirement(room, hasReceptacles))
    .filter((each) => each !== null)
    .map((each) => clocksOf(each, context))
  if (clocks.length === 0) return null
  return {
    rule: ARC_FAULT_RULE,
    inputs: shownInputs(inputs),
    references: uniqueReferences(clocks.flatMap((each) => each.references)),
    whenBuilt: strictest(clocks.map((each) => each.whenBuilt)),
    today: strictest(clocks.map((each) => each.today)),
  }
}

function shownInputs({
  ratingAmps,
  poles,
  multiwire,
  device,
  serves,
  outletArcFault,
  rooms,
}: ArcFaultInputs) {
  return {
    ratingAmps,
    poles,
    multiwire,
    device,
    serves,
    outletArcFault,
    rooms: rooms.toSorted().join(', '),
  }
}

const PROTECTING: readonly ArcFaultInputs['device'][] = ['afci', 'dual']

export function isArcFaultProtected({ device, outletArcFault }: ArcFaultInputs): boolean {
  return PROTECTING.includes(device) || outletArcFault === true
}

/** Why a circuit lies outside the section whatever rooms it feeds; null where it may lie inside. */
export function outsideArcFault(inputs: ArcFaultInputs, context: RuleContext): string | null {
  const { serves, poles, multiwire, ratingAmps } = inputs
  if (serves === 'spare') return 'nothing hangs on it'
  if (serves === 'feeder') return 'a feeder is no branch circuit'
  if (poles != null && poles > 1 && !multiwire) return 'only 120 V circuits are listed'
  const ratings = valueIn(ARC_FAULT_RATINGS, context.editionNow ?? NEWEST_EDITION)
  if (ratingAmps != null && ratings && !ratings.includes(ratingAmps)) {
    return `only circuits of ${ratings.join(', ')} A are listed`
  }
  return null
}

export function judgeArcFault(inputs: ArcFaultInputs, context: RuleContext): Verdict {
  const given = shownInputs(inputs)
  const bare: Basis = {
    rule: ARC_FAULT_RULE,
    inputs: given,
    references: [{ code: 'NFPA 70', article: '210.12' }],
  }
  const outside = outsideArcFault(inputs, context)
  if (outside) return notApplicable(bare, outside)
  if (isArcFaultProtected(inputs)) {
    return sound(arcFaultBasis(inputs, context) ?? bare, {
      technician: 'Circuit arc-fault protected.',
      homeowner: 'This circuit has a device that notices sparking in the wiring.',
    })
  }
  if (inputs.rooms.length === 0) return undetermined(bare, [EQUIPMENT_FIELDS.circuit.directory.label])
  const basis = arcFaultBasis(inputs, context)
  if (!basis) return notApplicable(bare, 'no edition lists such a room')
  const { ratingAmps, poles, device, outletArcFault } = inputs
  const missing = [
    ...(ratingAmps == null ? [EQUIPMENT_FIELDS.circuit.ratingAmps.label] : []),
    ...(poles == null ? [EQUIPMENT_FIELDS.circuit.poles.label] : []),
    ...(device == null ? [EQUIPMENT_FIELDS.circuit.device.label] : []),
  ]
  const asked = basis.whenBuilt !== 'no' || basis.today !== 'no'
  if (asked && missing.length > 0) return undetermined(basis, missing)
  const rooms = inputs.rooms.map((room) => SPACE_KINDS[room].toLowerCase()).toSorted()
  // Nobody has looked at the first outlet, where a device may sit: that is to be found out, not a defect yet.
  return shortfall(
    basis,
    context,
    {
      technician: `No arc-fault breaker (${rooms.join(', ')})${outletArcFault == null ? '; first outlet not checked' : ''}`,
      homeowner:
        'This circuit has no device that notices sparking in the wiring. Such a device can be added at the panel.',
    },
    outletArcFault == null ? 'investigate' : 'repair',
  )
}

export const arcFault: EquipmentRule<'circuit', ArcFaultInputs> = {
  id: ARC_FAULT_RULE,
  title: 'Arc-fault protection of the circuit',
  kind: 'circuit',
  watches: FED_BY_CIRCUITS,
  inputs: (circuit, home) => {
    const { ratingAmps, poles, multiwire, device, serves, outletArcFault } = circuit.details
    return { ratingAmps, poles, multiwire, device, serves, outletArcFault, rooms: roomsOf(circuit, home) }
  },
  judge: judgeArcFault,
}
