import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import type { IssuedView, LinkView } from '../../../server/links/schema.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { Card, Tag } from '../../shared/ui/page.tsx'
import { Empty, Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './private-links.module.css'

const PURPOSES: Readonly<Record<string, string>> = {
  due: 'What is due',
  visit: 'A visit',
  report: 'A report',
  preferences: 'Preferences',
  estimate: 'An estimate',
}
const STATES = {
  open: ['Open', 'good'],
  'run-out': ['Run out', 'plain'],
  withdrawn: ['Withdrawn', 'bad'],
} as const

/** The private pages of one person: which are open, withdrawing them, and a fresh one. */
export function PrivateLinks({ customerId }: { customerId: string }) {
  const queryClient = useQueryClient()
  const key = ['links', customerId] as const
  const links = useQuery({
    queryKey: key,
    queryFn: () => http.get<LinkView[]>(`/customers/${customerId}/links`),
  })
  const [issued, setIssued] = useState<IssuedView | null>(null)
  const [isAsking, setAsking] = useState(false)
  const again = () => void queryClient.invalidateQueries({ queryKey: key })
  const withdraw = useMutation({
    mutationFn: (id: string | null) =>
      http.post<unknown>(id ? `/links/${id}/withdraw` : `/customers/${customerId}/links/withdraw`, {}),
    onSuccess: () => {
      again()
      setIssued(null)
      setAsking(false)
      tell('Withdrawn: whoever opens it reads whom to phone.')
    },
  })
  const issue = useMutation({
    mutationFn: () => http.post<IssuedView>(`/customers/${customerId}/links`, { id: newId() }),
    onSuccess: (fresh) => {
      again()
      setIssued(fresh)
    },
  })
  const open = links.data?.filter(({ state }) => state === 'open') ?? []
  return (
    <Card
      title="Private pages"
      actions={
        <div className={css.acts}>
          <Button onPress={() => issue.mutate()} isPending={issue.isPending}>
            Make a fresh link
          </Button>
          <Button
            look="danger"
            isDisabled={open.length === 0}
            isPending={withdraw.isPending}
            onPress={() => setAsking(true)}
          >
            Withdraw all
          </Button>
        </div>
      }
    >
      <p>
        Every letter carries a link to a page of this person’s own. Withdraw them when a letter fell into
        other hands; the next letter brings a new one.
      </p>
      {issued && <Issued link={issued} />}
      <Dialog title="Withdraw every open link?" isOpen={isAsking} onClose={() => setAsking(false)}>
        <p>
          {open.length === 1 ? 'One page' : `${open.length} pages`} of this person will answer with your phone
          number only, reports among them. That cannot be undone; a fresh link can be made.
        </p>
        <Actions>
          <Button look="danger" isPending={withdraw.isPending} onPress={() => withdraw.mutate(null)}>
            Withdraw them
          </Button>
        </Actions>
      </Dialog>
      <Fault error={withdraw.error ?? issue.error} />
      {links.isPending && <Waiting />}
      {links.isError && <Failed error={links.error} retry={() => void links.refetch()} />}
      {links.isSuccess && links.data.length === 0 && <Empty title="No link has been sent yet." />}
      {links.isSuccess && links.data.length > 0 && (
        <Table
          caption="Private pages"
          rows={links.data}
          rowKey={(each) => each.id}
          columns={[
            {
              name: 'Shows',
              cell: (each) =>
                `${PURPOSES[each.purpose] ?? each.purpose}${each.line1 ? `, ${each.line1}` : ''}`,
            },
            {
              name: 'Sent in',
              cell: (each) =>
                each.messageId ? (
                  <Link to="/messages/$id" params={{ id: each.messageId }}>
                    {each.messageSubject ?? 'A letter'}
                  </Link>
                ) : (
                  'Given out by the office'
                ),
            },
            { name: 'Made', cell: (each) => formatInstant(each.createdAt) },
            { name: 'Last opened', cell: (each) => each.lastSeenAt && formatInstant(each.lastSeenAt) },
            {
              name: 'State',
              cell: (each) => <Tag tone={STATES[each.state][1]}>{STATES[each.state][0]}</Tag>,
            },
            {
              name: 'Act',
              right: true,
              cell: (each) =>
                each.state === 'open' ? (
                  <Button
                    small
                    isPending={withdraw.isPending}
                    onPress={() => withdraw.mutate(each.id)}
                    aria-label={`Withdraw the link of ${formatInstant(each.createdAt)}`}
                  >
                    Withdraw
                  </Button>
                ) : null,
            },
          ]}
        />
      )}
    </Card>
  )
}

/** The one moment in which the address is seen: it is copied from here, or gone. */
function Issued({ link }: { link: IssuedView }) {
  const copy = async () => {
    await navigator.clipboard.writeText(link.url)
    tell('Copied.')
  }
  return (
    <div className={css.issued} role="status">
      <p>
        <strong>This address is shown once.</strong> Copy it into a letter to this person and to nobody else.
      </p>
      <input className={css.address} readOnly value={link.url} aria-label="Address of the private page" />
      <Button look="main" onPress={() => void copy()}>
        Copy the address
      </Button>
    </div>
  )
}
