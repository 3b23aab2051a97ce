import type { Item } from '../checklist/item.ts'
import type { EquipmentKind } from '../equipment.ts'

/**
 * What neighbours usually have in common, and a person may take over after a look: never what tells one piece from
 * another (position, label, date, what it serves), and never what must be confirmed anew each time.
 */
const ALIKE: Partial<Readonly<Record<EquipmentKind, readonly string[]>>> = {
  circuit: [
    'poles',
    'ratingAmps',
    'device',
    'material',
    'size',
    'wiring',
    'directoryLegible',
    'conductorsUnderTerminal',
    'neutralsUnderTerminal',
    'insulationC',
    'terminalC',
    'groundMaterial',
    'groundSize',
  ],
  alarm: ['senses', 'sensor', 'power', 'interconnected', 'makerLifeYears', 'mounted'],
  receptacle: ['slots', 'groundPresent', 'tamperResistant', 'volts', 'amps'],
}

type Values = Readonly<Record<string, unknown>>

const filled = (entries: [string, unknown][]) => entries.filter(([, value]) => value != null && value !== '')

/** The readings of another line that may be taken over here. */
export function repeatableReadings(item: Pick<Item, 'required' | 'readings'>, readings: Values): Values {
  const allowed = ([name]: [string, unknown]) =>
    name in item.readings && !item.required?.includes(name) && name !== 'dropAlong'
  return Object.fromEntries(filled(Object.entries(readings).filter(allowed)))
}

/** The details of another piece of the same kind that may be taken over, as far as this one has none of its own. */
export function repeatableDetails(kind: EquipmentKind, from: Values, to: Values): Values {
  const names = (ALIKE[kind] ?? []).filter((name) => to[name] == null)
  return Object.fromEntries(filled(names.map((name) => [name, from[name]])))
}
