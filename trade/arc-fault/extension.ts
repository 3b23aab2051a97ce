import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, notApplicable, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { type Clocks, clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import {
  type ArcFaultInputs,
  arcFaultBasis,
  FED_BY_CIRCUITS,
  isArcFaultProtected,
  outsideArcFault,
  roomsOf,
} from './circuit.ts'

/** A circuit made longer by no more than this, with no new outlet, is left as it was. NFPA 70 210.12(D) Exception. */
export const EXTENSION_EXEMPT_FEET = 6

const ARTICLES = [
  { since: '2011', article: '210.12(B)', source: 'NFPA 70-2011; article from memory' },
  { since: '2017', article: '210.12(D)', source: 'NFPA 70-2017 210.12(D)' },
] as const

/** Wiring in the listed rooms that is changed, replaced or made longer. */
export const EXTENSION: Requirement = {
  keys: ['arc-fault.extension'],
  rows: ARTICLES.map((each) => ({ ...each, required: true })),
  before: 'no',
}
/** The exception for short extensions; handbooks have it by 2017, and 2014 is from memory. */
export const SHORT_EXTENSION: Requirement = {
  keys: ['arc-fault.extension', 'arc-fault.extension/short'],
  rows: [
    { since: '2011', required: true, article: '210.12(B)', source: 'NFPA 70-2011; article from memory' },
    { since: '2014', required: false, article: '210.12(B) Exception', source: 'from memory' },
    { since: '2017', required: false, article: '210.12(D) Exception', source: 'NFPA 70-2017 210.12(D)' },
  ],
  before: 'no',
}

export interface ExtensionInputs
  extends ArcFaultInputs, Pick<DetailsOf<'circuit'>, 'addedFeet' | 'addedOutlets'> {}

const RULE = 'arc-fault.extension'

export function judgeExtension(inputs: ExtensionInputs, context: RuleContext): Verdict {
  const { addedFeet, addedOutlets } = inputs
  const bare: Basis = {
    rule: RULE,
    inputs: { ...inputs, rooms: inputs.rooms.toSorted().join(', ') },
    references: [{ code: 'NFPA 70', article: '210.12(D)' }],
    figures:
      addedFeet == null
        ? []
        : [
            { label: EQUIPMENT_FIELDS.circuit.addedFeet.label, value: addedFeet, unit: 'ft' },
            { label: 'Left as it was up to', value: EXTENSION_EXEMPT_FEET, unit: 'ft' },
          ],
  }
  if (!addedFeet && !addedOutlets) return notApplicable(bare, 'nothing was added to the circuit')
  const outside = outsideArcFault(inputs, context)
  if (outside) return notApplicable(bare, outside)
  const rooms = arcFaultBasis(inputs, context)
  if (inputs.rooms.length === 0) return undetermined(bare, [EQUIPMENT_FIELDS.circuit.directory.label])
  if (!rooms) return notApplicable(bare, 'no edition lists such a room')
  const short = !addedOutlets && (addedFeet ?? 0) <= EXTENSION_EXEMPT_FEET
  const clocks = bothAsk(rooms, clocksOf(short ? SHORT_EXTENSION : EXTENSION, context))
  const basis: Basis = { ...bare, ...clocks }
  if (isArcFaultProtected(inputs)) {
    return sound(basis, {
      technician: 'Circuit changed and arc-fault protected.',
      homeowner: 'The circuit that was changed has a device that notices sparking in the wiring.',
    })
  }
  if (short && addedOutlets == null) {
    return undetermined(basis, [EQUIPMENT_FIELDS.circuit.addedOutlets.label])
  }
  if (short && basis.whenBuilt === 'no' && basis.today === 'no') {
    return notApplicable(basis, `made longer by ${tidy(addedFeet!)} ft without new outlets`)
  }
  if (inputs.device == null) return undetermined(basis, [EQUIPMENT_FIELDS.circuit.device.label])
  const what = addedOutlets
    ? 'with new outlets'
    : `made ${tidy(addedFeet!)} ft longer, ${EXTENSION_EXEMPT_FEET} ft exempt`
  return shortfall(basis, context, {
    technician: `Circuit ${what}, without arc-fault protection`,
    homeowner:
      'A circuit was changed without the device that notices sparking in the wiring. It can be added.',
  })
}

/** The room must be listed and changed wiring asked for. */
function bothAsk(rooms: Basis, work: Clocks): Pick<Basis, 'whenBuilt' | 'today' | 'references'> {
  const weakest = (a: Clocks['today'] = 'unknown', b: Clocks['today']) =>
    a === 'no' || b === 'no' ? 'no' : a === 'unknown' || b === 'unknown' ? 'unknown' : 'yes'
  return {
    whenBuilt: weakest(rooms.whenBuilt, work.whenBuilt),
    today: weakest(rooms.today, work.today),
    references: [...work.references, ...rooms.references],
  }
}

export const extension: EquipmentRule<'circuit', ExtensionInputs> = {
  id: RULE,
  title: 'Arc-fault protection of a changed circuit',
  kind: 'circuit',
  watches: FED_BY_CIRCUITS,
  inputs: (circuit, home) => {
    const { ratingAmps, poles, multiwire, device, serves, outletArcFault } = circuit.details
    const { addedFeet, addedOutlets } = circuit.details
    // Most circuits were never changed: their rooms need not be looked up.
    const rooms = addedFeet || addedOutlets ? roomsOf(circuit, home) : []
    return {
      ratingAmps,
      poles,
      multiwire,
      device,
      serves,
      outletArcFault,
      addedFeet,
      addedOutlets,
      rooms,
    }
  },
  judge: judgeExtension,
}
