import type { Additions } from '../../../trade/load/what-if.ts'
import { TextField } from '../../shared/ui/fields.tsx'

/** What the owner thinks of adding, as typed: volt-amperes of the nameplate. */
export type Added = Readonly<Record<'vehicle' | 'heatPump' | 'range' | 'hotTub', string>>
export const NOTHING_ADDED: Added = { vehicle: '', heatPump: '', range: '', hotTub: '' }

/** As much as the record lets any load be. */
const MOST_VA = 100_000

const FIELDS: readonly { name: keyof Added; label: string; help?: string }[] = [
  { name: 'vehicle', label: 'Vehicle charging in VA', help: '9600 = 40 A at 240 V' },
  { name: 'heatPump', label: 'Heat pump in VA', help: 'Takes the place of the cooling there is' },
  { name: 'range', label: 'Range in VA' },
  { name: 'hotTub', label: 'Hot tub in VA' },
]

export function WhatIfFields({ added, onChange }: { added: Added; onChange: (added: Added) => void }) {
  return FIELDS.map(({ name, label, help }) => (
    <TextField
      key={name}
      label={label}
      type="number"
      min={0}
      max={MOST_VA}
      value={added[name]}
      onChange={(value) => onChange({ ...added, [name]: value })}
      help={help}
      fault={isPossible(added[name]) ? undefined : 'Give 0 to 100,000 VA; until then it is left out.'}
    />
  ))
}

function isPossible(text: string): boolean {
  return Number(text) >= 0 && Number(text) <= MOST_VA
}

/** What can be added of it; a figure that cannot be is told at its field and left out. */
export function additionsOf(added: Added): Additions {
  const va = (name: keyof Added) => (isPossible(added[name]) ? Number(added[name]) : 0)
  const [vehicle, heatPump, range, hotTub] = [va('vehicle'), va('heatPump'), va('range'), va('hotTub')]
  return {
    ...(vehicle > 0 && { vehicleVA: vehicle }),
    ...(heatPump > 0 && { heatPump: { va: heatPump, replaces: ['airConditioners'] as const } }),
    ...(range > 0 && { rangeVA: range }),
    ...(hotTub > 0 && { hotTubVA: hotTub }),
  }
}
