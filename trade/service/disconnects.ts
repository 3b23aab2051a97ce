import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import { type Basis, finding, missingOf, onClocks, shortfall, sound, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.service
const RULE = 'service.number-of-disconnects'

/** Up to six since 1933 at the latest, NFPA 70 230.71. */
export const MOST_DISCONNECTS = 6

const SIX_THROWS: Requirement = {
  keys: [RULE],
  rows: [
    {
      since: '1940',
      required: true,
      article: '230.71',
      row: 'six at most',
      source: 'trade journal: by 1933',
    },
    { since: '2020', required: true, article: '230.71(B)', row: 'six at most', source: 'NFPA 70-2020' },
  ],
  before: 'unknown',
}
const APART: Requirement = {
  keys: [RULE, `${RULE}/apart`],
  rows: [
    {
      since: '2020',
      required: true,
      article: '230.71(B)',
      row: 'two to six only in enclosures, panelboards, compartments or sections of their own',
      source: 'NFPA 70-2020 as taught in continuing education',
    },
  ],
  before: 'no',
}

export type DisconnectInputs = Pick<DetailsOf<'service'>, 'disconnects' | 'disconnectsArrangement'>

/** How many throws of the hand switch the home off, and whether several sit apart from each other. */
export function judgeDisconnects(inputs: DisconnectInputs, context: RuleContext): Verdict {
  const { disconnects, disconnectsArrangement: arrangement } = inputs
  const counted = onClocks({ rule: RULE, inputs }, clocksOf(SIX_THROWS, context))
  if (disconnects == null) return undetermined(counted, missingOf(FIELDS, inputs, ['disconnects']))
  counted.figures = figuresOf(disconnects)
  if (disconnects === 0) {
    return finding(counted, 'repair', {
      technician: 'No service disconnect: one to six are needed.',
      homeowner: 'There is no main switch to turn the whole home off in an emergency. One is to be added.',
    })
  }
  if (disconnects > MOST_DISCONNECTS) {
    return finding(counted, 'repair', {
      technician: `${disconnects} throws to switch off: ${MOST_DISCONNECTS} at most.`,
      homeowner: `It takes ${disconnects} switches to turn the home off; six is the most allowed, so that it goes fast in an emergency.`,
    })
  }
  const words = {
    technician: `${disconnects} throw${disconnects === 1 ? '' : 's'} to switch off: ${MOST_DISCONNECTS} at most.`,
    homeowner: 'The whole home can be switched off quickly.',
  }
  if (disconnects === 1) return sound(counted, words)

  const apart = onClocks({ rule: RULE, inputs, figures: figuresOf(disconnects) }, clocksOf(APART, context))
  if (arrangement === 'own-enclosures') return sound(counted, words)
  if (!arrangement || arrangement === 'one') {
    // Before 2020 the arrangement did not matter, so it need not be known.
    if (apart.whenBuilt === 'no' && apart.today === 'no') return sound(counted, words)
    return undetermined(apart, [FIELDS.disconnectsArrangement.label])
  }
  const verdict = shortfall(apart, context, {
    technician: `${disconnects} disconnects together in one panelboard`,
    homeowner:
      'Several main switches sit in one panel. That was allowed for long and can stay; new work keeps them apart or uses a single one.',
  })
  return verdict.outcome === 'not-applicable' ? sound(counted, words) : verdict
}

function figuresOf(disconnects: number): Basis['figures'] {
  return [
    { label: 'Throws of the hand', value: disconnects, unit: 'count' },
    { label: 'Most allowed', value: MOST_DISCONNECTS, unit: 'count' },
  ]
}

export const numberOfDisconnects: EquipmentRule<'service', DisconnectInputs> = {
  id: RULE,
  title: 'Number of service disconnects',
  kind: 'service',
  watches: ['panel'],
  inputs: ({ details: { disconnects, disconnectsArrangement } }, home) => {
    const panels = inUse(home, 'panel').filter(({ details }) => details.role === 'service')
    const only = panels.length === 1 ? panels[0]!.details : {}
    return {
      disconnects: disconnects ?? only.mainThrows,
      disconnectsArrangement: disconnectsArrangement ?? (only.splitBus ? 'one-panelboard' : undefined),
    }
  },
  judge: judgeDisconnects,
}
