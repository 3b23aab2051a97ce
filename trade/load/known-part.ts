import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import { FIXED_APPLIANCES, LARGEST_MOTOR_SHARE, SMALLEST_FIXED_APPLIANCE_VA } from './factors.ts'
import type { LoadInputs, NameplateLoad } from './inputs.ts'
import { shareOf } from './worksheet.ts'

/**
 * What the home draws at the least, whatever the loads turn out to be that nobody has read yet. Those are left out, and
 * what they could bring down is taken as low as it can get: a fourth fixed appliance lowers the share of the others, and
 * heating that outweighs the cooling takes away the quarter for its compressor.
 */
export function knownPart(inputs: LoadInputs, edition: Edition): LoadInputs {
  return {
    ...inputs,
    areaSqFt: inputs.areaSqFt ?? 0,
    cooking: known(inputs.cooking),
    dryers: known(inputs.dryers),
    appliances: leastAppliances(known(inputs.appliances), edition),
    vehicles: known(inputs.vehicles),
    others: known(inputs.others),
    airConditioners: known(inputs.airConditioners).map(scaledBy(1 / (1 + LARGEST_MOTOR_SHARE))),
    heatPumps: known(inputs.heatPumps).map((pump) => ({ ...pump, supplementVA: pump.supplementVA ?? 0 })),
    electricHeat: known(inputs.electricHeat),
    storageHeat: known(inputs.storageHeat),
  }
}

function known<Load extends NameplateLoad>(loads: readonly Load[]): Load[] {
  return loads.filter((load) => load.va != null)
}

/** From four on the standard method lowers them by itself. */
function leastAppliances(appliances: NameplateLoad[], edition: Edition): NameplateLoad[] {
  const least = valueIn(SMALLEST_FIXED_APPLIANCE_VA, edition) ?? 0
  const large = appliances.filter((load) => load.va! >= least)
  return large.length >= FIXED_APPLIANCES.from ? appliances : appliances.map(scaledBy(FIXED_APPLIANCES.share))
}

const scaledBy =
  (share: number) =>
  (load: NameplateLoad): NameplateLoad => ({ ...load, va: shareOf(load.va!, share) })
