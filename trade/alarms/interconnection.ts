import type { RuleContext } from '../editions.ts'
import { EQUIPMENT_FIELDS } from '../equipment.ts'
import { inUse } from '../home.ts'
import { finding, notApplicable, onClocks, sound, undetermined } from '../judging.ts'
import { clocksOf } from '../requirement.ts'
import type { HomeRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { SMOKE_INTERCONNECTION } from './requirements.ts'
import { sensesSmoke } from './senses.ts'
import { alarmShortfall } from './shortfall.ts'

export interface InterconnectionInputs {
  /** One entry per smoke alarm in use. */
  alarms: readonly { interconnected: boolean | null; heardElsewhere: boolean | null }[]
}

/** One sounds, all sound; a listed radio link counts as a wire. IRC R314.4. */
export function judgeInterconnection({ alarms }: InterconnectionInputs, context: RuleContext): Verdict[] {
  const count = (test: (each: InterconnectionInputs['alarms'][number]) => boolean) =>
    alarms.filter(test).length
  const apart = count((each) => each.interconnected === false)
  const unknown = count((each) => each.interconnected === null)
  const unheard = count((each) => each.interconnected === true && each.heardElsewhere === false)
  const basis = onClocks(
    { rule: 'alarms.interconnection', inputs: { alarms: alarms.length, apart, unknown, unheard } },
    clocksOf(SMOKE_INTERCONNECTION, context),
  )
  if (alarms.length < 2) return [notApplicable(basis, 'fewer than two smoke alarms')]
  if (unheard) {
    return [
      finding(basis, 'repair', {
        technician: `${unheard} of ${alarms.length} alarms marked as joined were not heard from the others.`,
        homeowner: 'The alarms should all sound together, and in the test they did not.',
      }),
    ]
  }
  if (apart) {
    return [
      alarmShortfall(basis, context, {
        technician: `${apart} of ${alarms.length} smoke alarms sound alone`,
        homeowner: 'Not all smoke alarms sound together; joined ones wake the far bedroom too.',
      }),
    ]
  }
  if (unknown) return [undetermined(basis, [`${EQUIPMENT_FIELDS.alarm.interconnected.label}: each alarm`])]
  return [
    sound(basis, {
      technician: `All ${alarms.length} smoke alarms are joined.`,
      homeowner: 'When one smoke alarm sounds, all of them do.',
    }),
  ]
}

export const interconnection: HomeRule<InterconnectionInputs> = {
  id: 'alarms.interconnection',
  title: 'Alarms sound together',
  watches: ['alarm'],
  inputs: (home) => ({
    alarms: inUse(home, 'alarm')
      .filter(({ details }) => sensesSmoke(details.senses))
      .map(({ details }) => ({
        interconnected: details.interconnected ?? null,
        heardElsewhere: details.heardElsewhere ?? null,
      })),
  }),
  judge: judgeInterconnection,
}
