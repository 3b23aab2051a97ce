import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import { EDITION_MISSING, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { type Clocks, clocksOf, type Requirement } from '../requirement.ts'
import type { HomeRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'
import type { ElectrodeKind } from './electrode-conductor-table.ts'

/** A single rod, pipe or plate that measures no more than this needs no second. NFPA 70 250.53(A)(2) Exception. */
export const ENOUGH_ALONE_OHMS = 25

/** A lone rod must be backed up unless proven; before 2011 it had to be only when found above 25 Ω (from memory). */
export const SECOND_ELECTRODE: Requirement = {
  keys: ['grounding.electrode-system', 'grounding.electrode-system/rod'],
  rows: [{ since: '2011', required: true, article: '250.53(A)(2)', source: 'NFPA 70-2011 250.53(A)(2)' }],
  before: 'unknown',
}
/** A lone rod that measures more than 25 Ω: older than the editions looked up. */
export const SECOND_ELECTRODE_WHEN_POOR: Requirement = {
  keys: SECOND_ELECTRODE.keys,
  rows: [
    { since: '1978', required: true, article: '250-84', source: 'from memory' },
    { since: '1999', required: true, article: '250.56', source: 'from memory' },
    { since: '2011', required: true, article: '250.53(A)(2)', source: 'NFPA 70-2011 250.53(A)(2)' },
  ],
  before: 'unknown',
}
/** A water pipe is never enough by itself: first asked in 1978, from memory. */
export const WATER_PIPE_SUPPLEMENT: Requirement = {
  keys: ['grounding.electrode-system', 'grounding.electrode-system/water-pipe'],
  rows: [
    { since: '1978', required: true, article: '250-81(a)', source: 'from memory' },
    { since: '1999', required: true, article: '250.53(D)(2)', source: 'NFPA 70 250.53(D)(2)' },
  ],
  before: 'no',
}

export interface ElectrodeSystemInputs {
  electrodes: readonly { kind?: ElectrodeKind; resistanceOhms?: number }[]
}

const ALONE_WEAK: readonly ElectrodeKind[] = ['rod', 'pipe', 'plate']
/**
 * 250.53(D)(2) sends a rod that backs a water pipe to 250.53(A), which asks a lone one for 25 Ω or a second; an
 * interpretation of the State of North Carolina asks for no third electrode. The authority's reading decides.
 */
const ASKED_BY_SOME = `Where the authority reads 250.53(D)(2) strictly, what backs the water pipe has to measure ${ENOUGH_ALONE_OHMS} Ω or less, or have a second.`
const HOMEOWNER = {
  sound: 'Your home has enough connection to the earth.',
  water: 'The water pipe alone is not enough of an earth connection: a piece of plastic pipe would end it.',
  second: 'One earth electrode alone may make poor contact with the soil. A second one would make up for it.',
}

/** Whether the electrodes taken together are enough. Two rods need no measurement; their order does not matter. */
export function judgeElectrodeSystem(inputs: ElectrodeSystemInputs, context: RuleContext): Verdict {
  const { electrodes } = inputs
  const kinds = electrodes.map((each) => each.kind)
  const beside = besideWaterPipe(electrodes)
  const resistance = (electrodes.length === 1 ? electrodes[0] : beside)?.resistanceOhms
  const figures: Figure[] = [{ label: 'Electrodes', value: electrodes.length, unit: 'count' }]
  const basisFor = (clocks: Clocks) =>
    onClocks(
      {
        rule: 'grounding.electrode-system',
        inputs: {
          electrodes: kinds
            .map((kind) => kind ?? 'unknown')
            .toSorted()
            .join(', '),
          resistanceOhms: resistance,
        },
        figures,
      },
      clocks,
    )
  const second = basisFor(clocksOf(SECOND_ELECTRODE, context))
  if (electrodes.length === 0) return undetermined(second, ['Grounding electrodes'])
  if (kinds.includes(undefined)) return undetermined(second, [EQUIPMENT_FIELDS.electrode.kind.label])
  if (kinds.every((kind) => kind === 'water-pipe')) {
    return shortfall(basisFor(clocksOf(WATER_PIPE_SUPPLEMENT, context)), context, {
      technician: 'The water pipe is the only electrode; another is needed beside it',
      homeowner: HOMEOWNER.water,
    })
  }
  if (electrodes.length > 1 || !ALONE_WEAK.includes(kinds[0]!)) {
    const together = `Electrodes together: ${kinds.map(titleOf).toSorted().join(', ')}.`
    const isUnproven = beside && !((resistance ?? Infinity) <= ENOUGH_ALONE_OHMS)
    return sound(second, {
      technician: isUnproven ? `${together} ${ASKED_BY_SOME}` : together,
      homeowner: HOMEOWNER.sound,
    })
  }
  figures.push({ label: 'Enough alone up to', value: ENOUGH_ALONE_OHMS, unit: 'ohm' })
  const what = `A single ${kinds[0]}`
  if (resistance === undefined) {
    // Before 2011 the measurement decided, so without one nobody can say what was asked.
    if (second.whenBuilt !== 'yes' && second.today !== 'yes') {
      return undetermined(second, [
        EQUIPMENT_FIELDS.electrode.resistanceOhms.label,
        ...(context.editionNow ? [] : [EDITION_MISSING]),
      ])
    }
    return shortfall(second, context, {
      technician: `${what}, not measured: add a second or prove ${ENOUGH_ALONE_OHMS} Ω or less`,
      homeowner: HOMEOWNER.second,
    })
  }
  figures.push({ label: 'Measured', value: resistance, unit: 'ohm' })
  const measured = `${what} measuring ${tidy(resistance)} Ω, ${ENOUGH_ALONE_OHMS} Ω at most without a second`
  if (resistance <= ENOUGH_ALONE_OHMS) {
    return sound(second, { technician: `${measured}.`, homeowner: HOMEOWNER.sound })
  }
  const poor = basisFor(clocksOf(SECOND_ELECTRODE_WHEN_POOR, context))
  return shortfall(poor, context, { technician: measured, homeowner: HOMEOWNER.second })
}

/** The one rod, pipe or plate that backs a water pipe, where there is nothing else. */
function besideWaterPipe(electrodes: ElectrodeSystemInputs['electrodes']) {
  const others = electrodes.filter(({ kind }) => kind !== 'water-pipe')
  const [only] = others
  const isWeak = only?.kind !== undefined && ALONE_WEAK.includes(only.kind)
  return others.length === 1 && others.length < electrodes.length && isWeak ? only : undefined
}

function titleOf(kind: ElectrodeKind | undefined): string {
  return EQUIPMENT_FIELDS.electrode.kind.options[kind!].toLowerCase()
}

export const electrodeSystem: HomeRule<ElectrodeSystemInputs> = {
  id: 'grounding.electrode-system',
  title: 'Electrodes taken together',
  watches: ['electrode'],
  inputs: (home) => ({
    electrodes: inUse(home, 'electrode').map(({ details }) => ({
      kind: details.kind,
      resistanceOhms: details.resistanceOhms,
    })),
  }),
  judge: (inputs, context) => [judgeElectrodeSystem(inputs, context)],
}
