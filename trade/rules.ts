import * as alarms from './rules/alarms.ts'
import * as electricalA from './rules/electrical-a.ts'
import {
  joinEquipmentRule,
  joinHomeRule,
  joinReadingRule,
  joinSpaceRule,
  ruleSet,
} from './whole-home/rule-set.ts'

/** Every rule of the trade core, and the items of the checklist at which each speaks. */
export const RULES = ruleSet({
  equipment: [...electricalA.equipmentRules, ...alarms.equipmentRules].map(joinEquipmentRule),
  spaces: [...alarms.spaceRules].map(joinSpaceRule),
  homes: [...electricalA.homeRules, ...alarms.homeRules].map(joinHomeRule),
  readings: [...electricalA.readingRules, ...alarms.readingRules].map(joinReadingRule),
  spokenAt: { ...electricalA.spokenAt, ...alarms.spokenAt },
})
