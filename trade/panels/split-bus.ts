import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, notApplicable, onClocks, shortfall, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

/** Throws of the hand that may be needed to switch all off. NFPA 70 230.71, by 1933. */
export const MOST_THROWS = 6

export const SIX_THROWS: Requirement = {
  keys: ['panels.split-bus', 'panels.split-bus/throws'],
  rows: [
    { since: '1940', required: true, article: '230-71', source: 'histories: six by 1933' },
    { since: '2002', required: true, article: '230.71', source: 'histories' },
  ],
  before: 'no',
}
/** Several mains in one panelboard no longer count as the service disconnect. */
export const NO_SPLIT_BUS: Requirement = {
  keys: ['panels.split-bus'],
  rows: [
    { since: '1940', required: false, article: '230-71', row: 'up to six', source: 'histories' },
    { since: '2020', required: true, article: '230.71(B)', source: 'NFPA 70-2020 230.71(B)' },
  ],
  before: 'no',
}

export type SplitBusInputs = Pick<DetailsOf<'panel'>, 'splitBus' | 'mainThrows'>

const FIELDS = EQUIPMENT_FIELDS.panel

export function judgeSplitBus(inputs: SplitBusInputs, context: RuleContext): Verdict {
  const { splitBus, mainThrows } = inputs
  const basis: Basis = onClocks(
    {
      rule: 'panels.split-bus',
      inputs: { ...inputs },
      figures:
        mainThrows == null
          ? []
          : [
              { label: FIELDS.mainThrows.label, value: mainThrows, unit: 'count' },
              { label: 'Throws allowed', value: MOST_THROWS, unit: 'count' },
            ],
    },
    clocksOf(NO_SPLIT_BUS, context),
  )
  if (splitBus == null) return undetermined(basis, [FIELDS.splitBus.label])
  if (!splitBus) return notApplicable(basis, 'the panel has no split bus')
  if (mainThrows == null) return undetermined(basis, [FIELDS.mainThrows.label])
  if (mainThrows > MOST_THROWS) {
    return finding(onClocks(basis, clocksOf(SIX_THROWS, context)), 'repair', {
      technician: `Split bus: ${mainThrows} throws to switch all off, ${MOST_THROWS} at most.`,
      homeowner: 'It takes too many switches to turn everything off in an emergency.',
    })
  }
  return shortfall(basis, context, {
    technician: `Split bus: ${mainThrows} throws to switch all off, ${MOST_THROWS} at most; part of the bus stays live`,
    homeowner: 'Several switches must be turned off to cut the power. A new panel would have one.',
  })
}

export const splitBus: EquipmentRule<'panel', SplitBusInputs> = {
  id: 'panels.split-bus',
  title: 'Split bus',
  kind: 'panel',
  inputs: ({ details }) => ({ splitBus: details.splitBus, mainThrows: details.mainThrows }),
  judge: judgeSplitBus,
}
