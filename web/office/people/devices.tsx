import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { DeviceView } from '../../../server/people/device-schema.ts'
import type { PersonView } from '../../../server/people/schema.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { browserOf } from '../accounts/browser-of.ts'

/** Where somebody is logged in, and the way to take our customers off a device that was lost. */
export function Devices({ person }: { person: PersonView }) {
  const devices = useQuery({
    queryKey: ['people', person.id, 'devices'],
    queryFn: () => http.get<DeviceView[]>(`/people/${person.id}/devices`),
    // A device may have said since that it is empty.
    staleTime: 0,
  })
  const [removing, setRemoving] = useState<DeviceView | null>(null)
  if (devices.isPending) return <Waiting />
  if (devices.isError) return <Failed error={devices.error} retry={() => void devices.refetch()} />
  if (removing) return <Remove person={person} device={removing} onDone={() => setRemoving(null)} />
  if (devices.data.length === 0) return <Empty title={`${person.name} is logged in nowhere.`} />
  return (
    <Table
      caption={`Devices of ${person.name}`}
      rows={devices.data}
      rowKey={(each) => each.sessionId}
      columns={[
        { name: 'Browser', cell: (each) => browserOf(each.userAgent) },
        { name: 'Last used', cell: (each) => formatInstant(each.lastSeenAt) },
        { name: 'State', cell: (each) => <State device={each} /> },
        {
          name: 'Remove',
          right: true,
          cell: (each) =>
            each.state === 'in-use' &&
            !each.current && (
              <Button
                small
                look="danger"
                aria-label={`Remove ${browserOf(each.userAgent)}`}
                onPress={() => setRemoving(each)}
              >
                Remove
              </Button>
            ),
        },
      ]}
    />
  )
}

function State({ device }: { device: DeviceView }) {
  if (device.current) return <Tag tone="good">The one you are on</Tag>
  if (device.state === 'in-use') return <Tag tone="good">Logged in</Tag>
  if (device.state === 'removing') return <Tag tone="lamp">Deleted at its next contact</Tag>
  return (
    <>
      <Tag>Deleted {device.removedAt && formatInstant(device.removedAt)}</Tag>
      {device.unsent && device.unsent.changes + device.unsent.photos > 0 && (
        <p>
          Never sent: {device.unsent.changes} changes, {device.unsent.photos} pictures
        </p>
      )}
    </>
  )
}

function Remove({ person, device, onDone }: { person: PersonView; device: DeviceView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const remove = useMutation({
    mutationFn: () => http.delete(`/people/${person.id}/devices/${device.sessionId}`),
    onSuccess: async () => {
      await queryClient.invalidateQueries({ queryKey: ['people', person.id, 'devices'] })
      tell(`That device is logged out, and deletes what it holds at its next contact.`)
      onDone()
    },
  })
  return (
    <>
      <p>
        {browserOf(device.userAgent)}, last used {formatInstant(device.lastSeenAt)}. What happens:
      </p>
      <ul>
        <li>
          It is logged out at once. Who knows the password can log in again; to prevent that, shut the person
          out.
        </li>
        <li>
          When it next reaches this office, it deletes all visits, homes and pictures that it holds. Without a
          signal it keeps them until then.
        </li>
        <li>
          <strong>What it has not sent by now is lost:</strong> nothing of it is taken any more. It says how
          much that was, and the number is shown here.
        </li>
      </ul>
      <p>
        If {person.name} still has it: let them open it where there is a signal until it says “All sent”, and
        remove it then.
      </p>
      <Fault error={remove.error} />
      <Actions>
        <Button onPress={onDone}>Leave it</Button>
        <Button look="danger" isPending={remove.isPending} onPress={() => remove.mutate()}>
          Remove from this device
        </Button>
      </Actions>
    </>
  )
}
