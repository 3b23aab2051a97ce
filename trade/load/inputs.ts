/** A piece of equipment by its nameplate. */
export interface NameplateLoad {
  name: string
  /** Volt-amperes on the nameplate; null = not read yet. */
  va: number | null
  /** 120 V loads use the neutral. Left out = 240. */
  volts?: 120 | 240
  /** Driven by a motor: the largest one counts for a quarter more. Air conditioners and heat pumps always are. */
  motor?: boolean
}

export interface HeatPumpLoad extends NameplateLoad {
  /** Electric heat strips that run beside the compressor; left out = none. */
  supplementVA?: number | null
}

/** Everything a load calculation of one home asks for: a page can fill it field by field. */
export interface LoadInputs {
  /** Outside dimensions, without open porches, garages and space that cannot be lived in; null = not known. */
  areaSqFt: number | null
  /** Circuits for small appliances and laundry; fewer than the least a home must have count as that least. */
  smallApplianceCircuits: number
  laundryCircuits: number
  /** Ranges, ovens and cooktops. */
  cooking: readonly NameplateLoad[]
  dryers: readonly NameplateLoad[]
  /** Fastened in place: water heater, dishwasher, disposer … */
  appliances: readonly NameplateLoad[]
  vehicles: readonly NameplateLoad[]
  /** Counted in full: pool, hot tub, pumps. */
  others: readonly NameplateLoad[]
  airConditioners: readonly NameplateLoad[]
  heatPumps: readonly HeatPumpLoad[]
  electricHeat: readonly NameplateLoad[]
  /** Heaters with controls of their own; null counts as fewer than four, which errs safely. */
  heaterControls: number | null
  storageHeat: readonly NameplateLoad[]
}

/** A home with nothing in it yet. */
export const NO_LOAD: LoadInputs = {
  areaSqFt: null,
  smallApplianceCircuits: 0,
  laundryCircuits: 0,
  cooking: [],
  dryers: [],
  appliances: [],
  vehicles: [],
  others: [],
  airConditioners: [],
  heatPumps: [],
  electricHeat: [],
  heaterControls: null,
  storageHeat: [],
}

export const AREA_MISSING = 'Floor area'

const LISTS = [
  'cooking',
  'dryers',
  'appliances',
  'vehicles',
  'others',
  'airConditioners',
  'heatPumps',
  'electricHeat',
  'storageHeat',
] as const

/** What has to be known before a worksheet adds up, in words. */
export function missingLoads(inputs: LoadInputs): string[] {
  const missing = inputs.areaSqFt == null ? [AREA_MISSING] : []
  for (const list of LISTS) {
    for (const load of inputs[list]) if (load.va == null) missing.push(`Load of ${load.name}`)
  }
  for (const pump of inputs.heatPumps) {
    if (pump.supplementVA === null) missing.push(`Heat strips of ${pump.name}`)
  }
  return missing
}

export function sumVA(loads: readonly NameplateLoad[]): number {
  return loads.reduce((sum, load) => sum + (load.va ?? 0), 0)
}

export function uses120(load: NameplateLoad): boolean {
  return load.volts === 120
}
