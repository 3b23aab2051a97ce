import { airAndSteam } from '../alarms/air-and-steam.ts'
import { bedroomPath } from '../alarms/bedroom-path.ts'
import { buttonTest } from '../alarms/button-test.ts'
import { coPoints } from '../alarms/co-points.ts'
import { cookingDistance } from '../alarms/cooking-distance.ts'
import { coCoverage, smokeCoverage } from '../alarms/coverage-rules.ts'
import { heatRating } from '../alarms/heat-rating.ts'
import { interconnection } from '../alarms/interconnection.ts'
import { largeLevel } from '../alarms/large-level.ts'
import { mixedAges } from '../alarms/mixed-ages.ts'
import { mounting } from '../alarms/mounting.ts'
import { place } from '../alarms/place.ts'
import { power } from '../alarms/power.ts'
import { replacementRule } from '../alarms/replacement-rule.ts'
import { aluminiumBranch } from '../era/aluminium-branch.ts'
import { lookFor } from '../era/look-for.ts'
import { oldWiring } from '../era/old-wiring.ts'
import { insulationContact } from '../lighting/insulation-contact.ts'
import { lampWatts } from '../lighting/lamp-watts.ts'
import { roomLight } from '../lighting/room-light.ts'
import { saving } from '../lighting/saving-rule.ts'
import { stairLight } from '../lighting/stair-light.ts'
import type { AnyEquipmentRule, HomeRule, ReadingRule, SpaceRule } from '../rule.ts'

// Each rule's `judge` takes what its own `inputs` made; a list of several rules cannot name that type.
/* eslint-disable @typescript-eslint/no-explicit-any */
/** Alarms, lighting, and what the age of a home suggests. */
export const equipmentRules: readonly AnyEquipmentRule[] = [
  replacementRule,
  buttonTest,
  power,
  place,
  mounting,
  cookingDistance,
  airAndSteam,
  heatRating,
  lampWatts,
  insulationContact,
  aluminiumBranch,
  oldWiring,
]

export const spaceRules: readonly SpaceRule<any>[] = []

export const homeRules: readonly HomeRule<any>[] = [
  smokeCoverage,
  coCoverage,
  bedroomPath,
  largeLevel,
  interconnection,
  mixedAges,
  lookFor,
]

export const readingRules: readonly ReadingRule<any, any>[] = [roomLight, stairLight, saving, coPoints]

/** Items of the checklist at which these rules speak. */
export const spokenAt: Readonly<Record<string, readonly string[]>> = {
  'alarms.replacement': ['alarms.device'],
  'alarms.button-test': ['alarms.device'],
  'alarms.power': ['alarms.device'],
  'alarms.place': ['alarms.device'],
  'alarms.mounting': ['alarms.device'],
  'alarms.cooking-distance': ['alarms.device'],
  'alarms.air-and-steam': ['alarms.device'],
  'alarms.heat-rating': ['alarms.device'],
  'alarms.smoke-coverage': ['alarms.smoke-coverage'],
  'alarms.large-level': ['alarms.smoke-coverage'],
  'alarms.bedroom-path': ['alarms.smoke-coverage'],
  'alarms.co-coverage': ['alarms.co-coverage'],
  'alarms.co-points': ['alarms.co-coverage'],
  'alarms.interconnection': ['alarms.interconnection'],
  'alarms.ages': ['alarms.ages'],
  'lighting.room': ['lighting.room'],
  'lighting.stairs': ['lighting.stairs'],
  'lighting.lamp-watts': ['lighting.luminaire'],
  'lighting.insulation-contact': ['lighting.luminaire'],
  'lighting.saving': ['lighting.saving'],
  'era.aluminium-branch': ['panel-cover-off.circuit'],
  'era.old-wiring': ['panel-cover-off.circuit'],
  'era.look-for': ['panel-cover-off.condition'],
}
