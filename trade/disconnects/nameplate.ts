import { ampacity } from '../conductors/ampacity.ts'
import { CONDUCTOR_MATERIALS, sizeLabel } from '../conductors/sizes.ts'
import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, missingOf, sound, tidy, undetermined } from '../judging.ts'
import { NEWEST_EDITION } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Figure, Reference, Verdict } from '../verdict.ts'

type Details = DetailsOf<'disconnect'>
const FIELDS = EQUIPMENT_FIELDS.disconnect

/** The nameplate is an instruction of a listed product. NFPA 70 110.3(B), 440.4(B); reading it so is common practice. */
const NAMEPLATE: Reference[] = [
  { code: 'NFPA 70', article: '440.4(B)' },
  { code: 'NFPA 70', article: '110.3(B)' },
]
/** Terminals not marked otherwise, on circuits up to 100 A. NFPA 70 110.14(C)(1). */
const UNMARKED_TERMINAL_C = 60
const BETTER_TERMINAL_C = 75

export type NameplateConductorInputs = Pick<
  Details,
  'conductorMaterial' | 'conductorSize' | 'terminalC' | 'nameplateMinimumCircuitAmps'
>

/** Ampacity at the terminals against the minimum circuit ampacity. The small-conductor limits do not count here. */
export function judgeNameplateConductor(inputs: NameplateConductorInputs, context: RuleContext): Verdict {
  const { conductorMaterial, conductorSize, terminalC, nameplateMinimumCircuitAmps: wanted } = inputs
  const basis: Basis = { rule: 'disconnects.conductor', inputs: { ...inputs }, references: NAMEPLATE }
  if (!conductorMaterial || !conductorSize || wanted == null) {
    return undetermined(
      basis,
      missingOf(FIELDS, inputs, ['conductorMaterial', 'conductorSize', 'nameplateMinimumCircuitAmps']),
    )
  }
  const edition = context.editionWhenBuilt ?? context.editionNow ?? NEWEST_EDITION
  const at = (celsius: 60 | 75) => ampacity(conductorSize, conductorMaterial, celsius, edition) ?? 0
  const celsius = terminalC === '75' ? BETTER_TERMINAL_C : UNMARKED_TERMINAL_C
  const carries = at(celsius)
  const full: Basis = {
    ...basis,
    references: [
      ...NAMEPLATE,
      {
        code: 'NFPA 70',
        edition,
        article: 'Table 310.16',
        row: `${sizeLabel(conductorSize)}, ${celsius} °C`,
      },
    ],
    figures: [
      { label: 'Ampacity', value: carries, unit: 'A' },
      { label: FIELDS.nameplateMinimumCircuitAmps.label, value: wanted, unit: 'A' },
    ],
  }
  const what = `${sizeLabel(conductorSize)} ${CONDUCTOR_MATERIALS[conductorMaterial].toLowerCase()} carries ${carries} A at ${celsius} °C, ${tidy(wanted)} A wanted`
  if (carries >= wanted) {
    return sound(full, {
      technician: `${what}.`,
      homeowner: 'The wire to the machine is thick enough for it.',
    })
  }
  if (!terminalC && at(BETTER_TERMINAL_C) >= wanted) return undetermined(full, [FIELDS.terminalC.label])
  return finding(full, 'repair', {
    technician: `${what}.`,
    homeowner: 'The wire to the machine is thinner than its maker asks for, so it can run warm.',
  })
}

export type NameplateDeviceInputs = Pick<
  Details,
  'deviceKind' | 'deviceAmps' | 'circuitAmps' | 'nameplateMaximumDeviceAmps' | 'nameplateSaysFuse'
>

/** Fuse or breaker against the largest that the nameplate allows: never rounded up. */
export function judgeNameplateDevice(inputs: NameplateDeviceInputs): Verdict {
  const { deviceKind, nameplateMaximumDeviceAmps: allowed, nameplateSaysFuse } = inputs
  const amps = protectingAmps(inputs)
  const figures: Figure[] = []
  if (amps != null) figures.push({ label: FIELDS.deviceAmps.label, value: amps, unit: 'A' })
  if (allowed != null) {
    figures.push({ label: FIELDS.nameplateMaximumDeviceAmps.label, value: allowed, unit: 'A' })
  }
  const basis: Basis = { rule: 'disconnects.device', inputs: { ...inputs }, references: NAMEPLATE, figures }
  if (amps != null && allowed != null && amps > allowed) {
    return finding(basis, 'repair', {
      technician: `Overcurrent device ${tidy(amps)} A, nameplate allows ${tidy(allowed)} A.`,
      homeowner: 'The fuse or breaker of the machine is larger than its maker allows.',
    })
  }
  if (nameplateSaysFuse && deviceKind && deviceKind !== 'fuse') {
    return finding(basis, 'repair', {
      technician: `Nameplate asks for fuses, ${FIELDS.deviceKind.options[deviceKind].toLowerCase()} found.`,
      homeowner: 'The maker of the machine asks for fuses, and there are none.',
    })
  }
  const missing = missingOf(FIELDS, inputs, ['deviceKind', 'nameplateMaximumDeviceAmps', 'nameplateSaysFuse'])
  if (amps == null) missing.push(deviceKind === 'none' ? FIELDS.circuitAmps.label : FIELDS.deviceAmps.label)
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: `Overcurrent device ${tidy(amps!)} A, nameplate allows ${tidy(allowed!)} A.`,
    homeowner: 'The fuse or breaker of the machine is what its maker allows.',
  })
}

/** The smaller of the device here and the one ahead protects; a bare switch leaves it to the one ahead. */
function protectingAmps({ deviceKind, deviceAmps, circuitAmps }: NameplateDeviceInputs): number | undefined {
  if (deviceKind === 'none') return circuitAmps
  if (deviceAmps == null || circuitAmps == null) return deviceAmps
  return Math.min(deviceAmps, circuitAmps)
}

export const nameplateConductor: EquipmentRule<'disconnect', NameplateConductorInputs> = {
  id: 'disconnects.conductor',
  title: 'Conductor against the nameplate',
  kind: 'disconnect',
  inputs: ({ details }) => ({
    conductorMaterial: details.conductorMaterial,
    conductorSize: details.conductorSize,
    terminalC: details.terminalC,
    nameplateMinimumCircuitAmps: details.nameplateMinimumCircuitAmps,
  }),
  judge: judgeNameplateConductor,
}
export const nameplateDevice: EquipmentRule<'disconnect', NameplateDeviceInputs> = {
  id: 'disconnects.device',
  title: 'Fuse or breaker against the nameplate',
  kind: 'disconnect',
  inputs: ({ details }) => ({
    deviceKind: details.deviceKind,
    deviceAmps: details.deviceAmps,
    circuitAmps: details.circuitAmps,
    nameplateMaximumDeviceAmps: details.nameplateMaximumDeviceAmps,
    nameplateSaysFuse: details.nameplateSaysFuse,
  }),
  judge: judgeNameplateDevice,
}
