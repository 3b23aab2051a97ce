import type { EquipmentKind } from '../equipment.ts'
import { calculatedAgainstService } from '../load/against-service.ts'
import { breakerAgainstConductor } from '../overcurrent/breaker-against-conductor.ts'
import { feederAgainstConductor } from '../overcurrent/feeder.ts'
import { multiwireDisconnect } from '../overcurrent/multiwire.ts'
import { deviceAgainstBus } from '../overcurrent/panel-bus.ts'
import { tenAmpCircuit } from '../overcurrent/ten-amp.ts'
import { conductorsPerTerminal, neutralsPerTerminal } from '../overcurrent/terminals.ts'
import { whiteAsHot } from '../overcurrent/white-as-hot.ts'
import type { EquipmentRule, HomeRule, ReadingRule } from '../rule.ts'
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
type AnyEquipmentRule = { [Kind in EquipmentKind]: EquipmentRule<Kind, any> }[EquipmentKind]

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
