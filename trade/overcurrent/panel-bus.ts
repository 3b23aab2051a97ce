import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { finding, notApplicable, sound, undetermined } from '../judging.ts'
import { editionRead, inEveryEdition, nec } from '../nec.ts'
import type { EditionRow } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.panel
const RULE = 'overcurrent.device-against-bus'

const ARTICLE: readonly EditionRow<string>[] = [
  { since: '1940', value: '384-16', source: 'from memory' },
  { since: '2002', value: '408.36', source: 'from memory' },
]

export type BusInputs = Pick<
  DetailsOf<'panel'>,
  'role' | 'busAmps' | 'mainAmps' | 'feederBreakerAmps' | 'splitBus'
>

/** A panelboard is protected at no more than its bus rating, by its main breaker or by its feeder's. */
export function judgeBus(inputs: BusInputs, context: RuleContext): Verdict {
  const { busAmps, mainAmps, feederBreakerAmps, role, splitBus } = inputs
  const basis = {
    rule: RULE,
    inputs,
    references: [nec(ARTICLE, editionRead(context))],
    ...inEveryEdition(context),
  }
  if (splitBus) return notApplicable(basis, 'a split bus has no single main; its throws are counted instead')
  const feeder = role === 'service' ? undefined : feederBreakerAmps
  const protecting = [mainAmps, feeder].filter((amps) => amps != null)
  const missing: string[] = []
  if (busAmps == null) missing.push(FIELDS.busAmps.label)
  if (protecting.length === 0) {
    missing.push(role === 'sub-panel' ? FIELDS.feederBreakerAmps.label : FIELDS.mainAmps.label)
  }
  if (busAmps == null || missing.length > 0) return undetermined(basis, missing)
  const amps = Math.min(...protecting)
  const shown = {
    ...basis,
    figures: [
      { label: FIELDS.busAmps.label, value: busAmps, unit: 'A' as const },
      { label: 'Device that protects it', value: amps, unit: 'A' as const },
    ],
  }
  if (amps <= busAmps) {
    // A feeder breaker protects a sub-panel; on the record of a service panel it says nothing.
    const isByFeederAlone = mainAmps == null || mainAmps > busAmps
    if (!role && isByFeederAlone) return undetermined(shown, [FIELDS.role.label])
    return sound(shown, {
      technician: `${busAmps} A bus behind ${amps} A.`,
      homeowner: 'The panel is built for what its main breaker lets through.',
    })
  }
  return finding(shown, 'repair', {
    technician: `${busAmps} A bus behind ${amps} A: ${busAmps} A at most.`,
    homeowner:
      'The breaker ahead of this panel lets through more than the panel is built for; it could overheat.',
  })
}

export const deviceAgainstBus: EquipmentRule<'panel', BusInputs> = {
  id: RULE,
  title: 'Main or feeder breaker against the panel’s bus',
  kind: 'panel',
  inputs: ({ details: { role, busAmps, mainAmps, feederBreakerAmps, splitBus } }) => ({
    role,
    busAmps,
    mainAmps,
    feederBreakerAmps,
    splitBus,
  }),
  judge: judgeBus,
}
