import { useState } from 'react'
import type { HomeView } from '../../../server/properties/home-schema.ts'
import { EQUIPMENT_KINDS, type EquipmentKind } from '../../../trade/equipment.ts'
import { formatDay } from '../../shared/format.ts'
import { SelectField } from '../../shared/ui/fields.tsx'
import { Card, Tag } from '../../shared/ui/page.tsx'
import { Empty } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'

/** What is installed, with its dates; those with a date first, the others by kind and number. */
export function EquipmentAtHome({ home }: { home: HomeView }) {
  const [kind, setKind] = useState('')
  const inUse = home.equipment.filter((each) => !each.retiredOn && (!kind || each.kind === kind))
  const sorted = inUse.toSorted(
    (a, b) =>
      (a.replaceBy ?? a.nextCheckOn ?? '9999').localeCompare(b.replaceBy ?? b.nextCheckOn ?? '9999') ||
      a.kind.localeCompare(b.kind) ||
      a.label.localeCompare(b.label, undefined, { numeric: true }),
  )
  const day = (value: string | null) => (value ? formatDay(value) : null)
  return (
    <Card
      title="Equipment"
      actions={
        <SelectField label="Kind" value={kind} onChange={setKind} options={EQUIPMENT_KINDS} empty="All" />
      }
    >
      {sorted.length === 0 ? (
        <Empty title="No equipment is on record; the first inspection writes it down." />
      ) : (
        <Table
          caption="Equipment"
          rows={sorted}
          rowKey={(each) => each.id}
          columns={[
            { name: 'What', cell: (each) => each.label },
            { name: 'Kind', cell: (each) => EQUIPMENT_KINDS[each.kind as EquipmentKind] },
            {
              name: 'Where',
              cell: (each) => home.spaces.find((space) => space.id === each.spaceId)?.name,
              deskOnly: true,
            },
            { name: 'Made', cell: (each) => day(each.manufacturedOn), right: true },
            { name: 'Fitted', cell: (each) => day(each.installedOn), right: true, deskOnly: true },
            {
              name: 'Replace by',
              cell: (each) =>
                each.replaceBy && (
                  <>
                    {formatDay(each.replaceBy)} {each.replaceByAssumed && <Tag>assumed</Tag>}
                  </>
                ),
              right: true,
            },
            { name: 'Next check', cell: (each) => day(each.nextCheckOn), right: true },
          ]}
        />
      )}
    </Card>
  )
}
