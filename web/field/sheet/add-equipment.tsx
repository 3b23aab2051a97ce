import { isEquipmentSubject } from '../../../trade/checklist/item.ts'
import { CHECKLIST } from '../../../trade/checklist/checklist.ts'
import { EQUIPMENT_KINDS, type EquipmentKind } from '../../../trade/equipment.ts'
import { lineKey } from '../../../trade/inspection/lines.ts'
import { newId } from '../../shared/ids.ts'
import { act } from './acts.ts'
import type { Inspection } from './inspection-of.ts'

/** What is seen and not on record yet is added where it is asked for; the details follow on its line. */
export function AddEquipment({
  inspection,
  areaId,
  onAdded,
}: {
  inspection: Inspection
  areaId: string
  onAdded: (lineKey: string) => void
}) {
  const area = CHECKLIST.areas.find((each) => each.id === areaId)
  const kinds = new Map<EquipmentKind, string>()
  for (const item of area?.items ?? []) {
    if (isEquipmentSubject(item.subject) && !kinds.has(item.subject.equipment))
      kinds.set(item.subject.equipment, item.id)
  }
  // Of what none is on record, the line itself offers it.
  const known = [...kinds].filter(([kind]) => inspection.sheet.equipment.some((each) => each.kind === kind))
  if (known.length === 0) return null
  return (
    <div className="row">
      {known.map(([kind, itemId]) => (
        <AddOne key={kind} inspection={inspection} kind={kind} itemId={itemId} onAdded={onAdded} />
      ))}
    </div>
  )
}

export function AddOne({
  inspection,
  kind,
  itemId,
  onAdded,
}: {
  inspection: Inspection
  kind: EquipmentKind
  itemId: string
  onAdded: (lineKey: string) => void
}) {
  const add = async () => {
    const id = newId()
    await act(inspection.sheet, 'add-equipment', {
      equipment: { id, kind, label: labelOf(inspection, kind), ...placeOf(inspection, kind) },
    })
    onAdded(lineKey(itemId, id))
  }
  return (
    <button type="button" className="press" onClick={() => void add()}>
      Add: {EQUIPMENT_KINDS[kind].toLowerCase()}
    </button>
  )
}

function labelOf({ sheet }: Inspection, kind: EquipmentKind): string {
  const count = sheet.equipment.filter((each) => each.kind === kind).length
  return `${EQUIPMENT_KINDS[kind]} ${count + 1}`
}

/** A circuit belongs to the panel that is being worked on, at the position after the last one. */
function placeOf({ sheet }: Inspection, kind: EquipmentKind) {
  if (kind !== 'circuit') return {}
  const panel = sheet.equipment.find((each) => each.kind === 'panel')
  const last = Math.max(
    0,
    ...sheet.equipment
      .filter((each) => each.kind === 'circuit')
      .map((each) => Number(each.details['position']) || 0),
  )
  return { parentId: panel?.id ?? null, details: { position: last + 1 } }
}
