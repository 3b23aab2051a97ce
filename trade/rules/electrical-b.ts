import { arcFault } from '../arc-fault/circuit.ts'
import { extension } from '../arc-fault/extension.ts'
import { groundFault } from '../checklist/areas/ground-fault.ts'
import { otherPipingBond } from '../bonding/circuit-bond.ts'
import { expectedBonds } from '../bonding/expected.ts'
import { gasBond } from '../bonding/gas.ts'
import { communicationsBond, intersystemTermination } from '../bonding/intersystem.ts'
import { mainJumper } from '../bonding/main-jumper.ts'
import { waterMeterJumper, waterPipingBond } from '../bonding/water.ts'
import { disconnectCondition } from '../disconnects/condition.ts'
import { disconnectCover } from '../disconnects/cover.ts'
import { nameplateConductor, nameplateDevice } from '../disconnects/nameplate.ts'
import { serviceReceptacle } from '../disconnects/service-receptacle.ts'
import { disconnectSight } from '../disconnects/sight.ts'
import { dishwasher } from '../ground-fault/dishwasher.ts'
import { outdoorOutlet } from '../ground-fault/outdoor-outlet.ts'
import { protection } from '../ground-fault/protection.ts'
import { protectionReading } from '../ground-fault/reading.ts'
import { electrodeClamp } from '../grounding/electrode-clamp.ts'
import { electrodeConductor, electrodeConductorAtElectrode } from '../grounding/electrode-conductor.ts'
import { electrodeSpacing } from '../grounding/electrode-spacing.ts'
import { electrodeSystem } from '../grounding/electrode-system.ts'
import { electrode } from '../grounding/electrode.ts'
import { circuitEquipmentConductor, feederEquipmentConductor } from '../grounding/equipment-conductor.ts'
import { waterPipeEntry } from '../grounding/water-pipe-entry.ts'
import { directory } from '../panels/directory.ts'
import { listedBreakers, panelCover, panelHeat, panelOpenings } from '../panels/enclosure.ts'
import { handleHeight } from '../panels/handle-height.ts'
import { panelLocation, panelSpaceUse } from '../panels/location.ts'
import { neutralGround } from '../panels/neutral-ground.ts'
import { splitBus } from '../panels/split-bus.ts'
import { disconnectClearSpace, workingSpace } from '../panels/working-space.ts'
import { receptacleCondition } from '../receptacles/condition.ts'
import { receptacleGrounding } from '../receptacles/grounding.ts'
import { tamperResistant } from '../receptacles/tamper-resistant.ts'
import { terminations } from '../receptacles/terminations.ts'
import { tester } from '../receptacles/tester.ts'
import { inUseCover, weatherResistant } from '../receptacles/weather.ts'
import type { AnyEquipmentRule, HomeRule, ReadingRule, SpaceRule } from '../rule.ts'
import { nominalCurrent, surgeLeads, surgeType } from '../surge/device.ts'
import { surgeIndicator } from '../surge/indicator.ts'
import { surgeRequired } from '../surge/required.ts'

// Each rule's `judge` takes what its own `inputs` made; a list of several rules cannot name that type.
/* eslint-disable @typescript-eslint/no-explicit-any */
/** Rules on grounding, bonding, protection, receptacles, surge, disconnects and panels, about one thing each. */
export const equipmentRules: readonly AnyEquipmentRule[] = [
  electrodeConductor,
  electrodeConductorAtElectrode,
  electrode,
  electrodeSpacing,
  electrodeClamp,
  waterPipeEntry,
  circuitEquipmentConductor,
  feederEquipmentConductor,
  mainJumper,
  waterPipingBond,
  waterMeterJumper,
  gasBond,
  otherPipingBond,
  communicationsBond,
  intersystemTermination,
  outdoorOutlet,
  dishwasher,
  arcFault,
  extension,
  receptacleGrounding,
  tamperResistant,
  weatherResistant,
  inUseCover,
  receptacleCondition,
  surgeType,
  nominalCurrent,
  surgeLeads,
  surgeIndicator,
  disconnectSight,
  nameplateConductor,
  nameplateDevice,
  serviceReceptacle,
  disconnectCondition,
  workingSpace,
  panelLocation,
  directory,
  panelOpenings,
  listedBreakers,
  panelHeat,
  neutralGround,
  handleHeight,
  splitBus,
]

/** About one room or place. */
export const spaceRules: readonly SpaceRule<any>[] = [protection]

/** About the home as a whole. */
export const homeRules: readonly HomeRule<any>[] = [electrodeSystem, expectedBonds, surgeRequired]

/** About readings typed for one checklist item. */
export const readingRules: readonly ReadingRule<any, any>[] = [
  protectionReading,
  tester,
  terminations,
  panelSpaceUse,
  panelCover,
  disconnectClearSpace,
  disconnectCover,
]

const PROTECTED_PLACES = groundFault.items.map((item) => item.id)

/** Items of the checklist at which these rules speak. */
export const spokenAt: Readonly<Record<string, readonly string[]>> = {
  'grounding.electrode-conductor': ['service.grounding-conductor'],
  'grounding.electrode-conductor-at-electrode': ['grounding.conductor'],
  'grounding.electrode': ['grounding.electrode'],
  'grounding.electrode-spacing': ['grounding.electrode'],
  'grounding.electrode-clamp': ['grounding.conductor'],
  'grounding.water-pipe-entry': ['grounding.water-pipe'],
  'grounding.electrode-system': ['grounding.enough'],
  'grounding.circuit-equipment-conductor': ['panel-cover-off.circuit'],
  'grounding.feeder-equipment-conductor': ['panel-cover-off.feeder-lugs'],
  'bonding.main-jumper': ['panel-cover-off.main-bonding-jumper'],
  'bonding.water-pipe': ['grounding.water-piping-bond'],
  'bonding.other-pipe': ['grounding.water-piping-bond'],
  'bonding.water-meter': ['grounding.water-meter'],
  'bonding.gas-pipe': ['gas-bond.pipe-kind', 'gas-bond.bond', 'gas-bond.clamp'],
  'bonding.communications': ['grounding.communications-bond'],
  'bonding.intersystem-termination': ['grounding.intersystem'],
  'bonding.expected': ['grounding.enough'],
  'ground-fault.places': PROTECTED_PLACES,
  'ground-fault.reading': PROTECTED_PLACES,
  'ground-fault.outdoor-outlet': ['equipment-disconnect.ground-fault'],
  'ground-fault.dishwasher': ['panel-cover-off.circuit'],
  'arc-fault.places': ['panel-cover-off.circuit'],
  'arc-fault.extension': ['panel-cover-off.circuit'],
  'receptacles.grounding': ['receptacles.device'],
  'receptacles.tamper-resistant': ['receptacles.device'],
  'receptacles.weather-resistant': ['receptacles.device'],
  'receptacles.in-use-cover': ['receptacles.device'],
  'receptacles.condition': ['receptacles.device'],
  'receptacles.tester': ['receptacles.room'],
  'receptacles.terminations': ['receptacles.opened'],
  'surge.required': ['surge.device'],
  'surge.type': ['surge.device'],
  'surge.nominal-current': ['surge.device'],
  'surge.indicator': ['surge.indicator', 'surge.dates'],
  'surge.leads': ['surge.leads'],
  'disconnects.sight': ['equipment-disconnect.in-sight'],
  'disconnects.clear-space': ['equipment-disconnect.clear-space'],
  'disconnects.cover': ['equipment-disconnect.cover'],
  'disconnects.conductor': ['equipment-disconnect.conductor'],
  'disconnects.device': ['equipment-disconnect.device'],
  'disconnects.service-receptacle': ['equipment-disconnect.service-receptacle'],
  'disconnects.condition': ['equipment-disconnect.inside'],
  'panels.working-space': ['panel-cover-on.working-space'],
  'panels.location': ['panel-cover-on.location'],
  'panels.space-use': ['panel-cover-on.location'],
  'panels.directory': ['panel-cover-on.directory'],
  'panels.cover': ['panel-cover-on.door-and-cover'],
  'panels.heat': ['panel-cover-on.heat'],
  'panels.openings': ['panel-cover-off.openings'],
  'panels.listed-breakers': ['panel-cover-off.breakers-listed'],
  'panels.neutral-ground': ['panel-cover-off.neutral-and-ground'],
  'panels.handle-height': ['panel-cover-on.location'],
  'panels.split-bus': ['panel-cover-off.split-bus'],
}
