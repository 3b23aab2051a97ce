import { ruleSet } from './whole-home/rule-set.ts'

/** Every rule of the trade core. */
export const RULES = ruleSet({})
