import * as alarms from './rules/alarms.ts'
import * as electricalA from './rules/electrical-a.ts'
import * as electricalB from './rules/electrical-b.ts'
import {
  joinEquipmentRule,
  joinHomeRule,
  joinReadingRule,
  joinSpaceRule,
  ruleSet,
} from './whole-home/rule-set.ts'

const { equipmentRules: equipment, homeRules: homes, readingRules: readings } = electricalA

/** Every rule of the trade core, and the items of the checklist at which each speaks. */
export const RULES = ruleSet({
  equipment: [...equipment, ...electricalB.equipmentRules, ...alarms.equipmentRules].map(joinEquipmentRule),
  spaces: [...electricalB.spaceRules, ...alarms.spaceRules].map(joinSpaceRule),
  homes: [...homes, ...electricalB.homeRules, ...alarms.homeRules].map(joinHomeRule),
  readings: [...readings, ...electricalB.readingRules, ...alarms.readingRules].map(joinReadingRule),
  spokenAt: { ...electricalA.spokenAt, ...electricalB.spokenAt, ...alarms.spokenAt },
})
