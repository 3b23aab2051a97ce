import { arcFault } from '../arc-fault/circuit.ts'
import { extension } from '../arc-fault/extension.ts'
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
import { nominalCurrent, surgeLeads, surgeType } from '../surge/device.ts'
import { surgeIndicator } from '../surge/indicator.ts'
import { surgeRequired } from '../surge/required.ts'

/** Rules on grounding, bonding, protection, receptacles, surge, disconnects and panels, about one thing each. */
export const equipmentRules = [
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
] as const

/** About one room or place. */
export const spaceRules = [protection] as const

/** About the home as a whole. */
export const homeRules = [electrodeSystem, expectedBonds, surgeRequired] as const

/** About readings typed for one checklist item. */
export const readingRules = [
  protectionReading,
  tester,
  terminations,
  panelSpaceUse,
  panelCover,
  disconnectClearSpace,
  disconnectCover,
] as const
