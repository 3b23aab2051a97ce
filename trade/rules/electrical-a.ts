import { calculatedAgainstService } from '../load/against-service.ts'
import { breakerAgainstConductor } from '../overcurrent/breaker-against-conductor.ts'
import { feederAgainstConductor } from '../overcurrent/feeder.ts'
import { multiwireDisconnect } from '../overcurrent/multiwire.ts'
import { deviceAgainstBus } from '../overcurrent/panel-bus.ts'
import { tenAmpCircuit } from '../overcurrent/ten-amp.ts'
import { conductorsPerTerminal, neutralsPerTerminal } from '../overcurrent/terminals.ts'
import { whiteAsHot } from '../overcurrent/white-as-hot.ts'
import type { AnyEquipmentRule, HomeRule, ReadingRule } from '../rule.ts'
import { clearanceRules } from '../service/clearances.ts'
import { mainAgainstConductors, ratingAgainstConductors } from '../service/conductors.ts'
import { numberOfDisconnects } from '../service/disconnects.ts'
import { emergencyDisconnect } from '../service/emergency-disconnect.ts'
import { minimumRating } from '../service/minimum-rating.ts'
import { oxideInhibitor } from '../service/oxide-inhibitor.ts'
import { torqueReading } from '../torque/reading.ts'
import { loadedReceptacle, neutralToGround, voltageAtReceptacle } from '../voltage-drop/reading.ts'
import { expectedOfRun } from '../voltage-drop/run.ts'

// Each rule's `judge` takes what its own `inputs` made; a list of several rules cannot name that type.
/* eslint-disable @typescript-eslint/no-explicit-any */
export const equipmentRules: readonly AnyEquipmentRule[] = [
  breakerAgainstConductor,
  multiwireDisconnect,
  conductorsPerTerminal,
  neutralsPerTerminal,
  whiteAsHot,
  tenAmpCircuit,
  expectedOfRun,
  feederAgainstConductor,
  deviceAgainstBus,
  mainAgainstConductors,
  ratingAgainstConductors,
  minimumRating,
  numberOfDisconnects,
  emergencyDisconnect,
  oxideInhibitor,
  ...clearanceRules,
]

export const homeRules: readonly HomeRule<any>[] = [calculatedAgainstService]

export const readingRules: readonly ReadingRule<any, any>[] = [
  torqueReading,
  loadedReceptacle,
  voltageAtReceptacle,
  neutralToGround,
]

/** Items of the checklist at which these rules speak. */
export const spokenAt: Readonly<Record<string, readonly string[]>> = {
  'overcurrent.breaker-against-conductor': ['panel-cover-off.circuit'],
  'overcurrent.multiwire-disconnect': ['panel-cover-off.circuit'],
  'overcurrent.conductors-per-terminal': ['panel-cover-off.circuit'],
  'overcurrent.neutrals-per-terminal': ['panel-cover-off.circuit'],
  'overcurrent.white-as-hot': ['panel-cover-off.circuit'],
  'overcurrent.ten-amp-circuit': ['panel-cover-off.circuit'],
  'voltage-drop.expected-of-run': ['panel-cover-off.circuit'],
  'overcurrent.feeder-against-conductor': ['panel-cover-off.feeder-lugs'],
  'overcurrent.device-against-bus': ['panel-cover-on.main-breaker'],
  'service.main-against-conductors': ['panel-cover-on.main-breaker'],
  'service.rating-against-conductors': ['service.entrance-cable'],
  'service.minimum-rating': ['service.meter-enclosure'],
  'service.number-of-disconnects': ['panel-cover-off.disconnects'],
  'service.emergency-disconnect': ['service.emergency-disconnect'],
  'service.oxide-inhibitor': ['service.inhibitor'],
  'service.clearance-over-roof': ['service.overhead-drop'],
  'service.clearance-over-drive': ['service.overhead-drop'],
  'service.clearance-over-walk': ['service.overhead-drop'],
  'load.calculated-against-service': ['panel-cover-off.load'],
  'torque.reading-against-value': ['service.lugs', 'panel-cover-off.feeder-lugs'],
  'voltage-drop.loaded-receptacle': ['receptacles.room'],
  'voltage-drop.voltage-at-receptacle': ['receptacles.room'],
  'voltage-drop.neutral-to-ground': ['receptacles.room'],
}
