import { useMutation, useQueryClient } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import type { RequestView } from '../../../server/requests/schema.ts'
import { REQUEST_SOURCES, VISIT_KINDS } from '../../../trade/visits.ts'
import { http } from '../../shared/api/http.ts'
import { requestQueries } from '../../shared/api/visits.ts'
import { formatDay } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { BookVisit } from '../visits/book-visit.tsx'
import css from './request-list.module.css'

/** People who wait for a day, the longest waiting first; each can be booked from here. */
export function RequestList({ requests }: { requests: readonly RequestView[] }) {
  const [booking, setBooking] = useState<RequestView | null>(null)
  const [withdrawing, setWithdrawing] = useState<RequestView | null>(null)
  return (
    <>
      <ul className={css.requests}>
        {requests.map((each) => (
          <li key={each.id}>
            <p className={css.who}>
              <Link to="/homes/$id" params={{ id: each.propertyId }}>
                {each.line1}
              </Link>
              <span>{each.customerName}</span>
            </p>
            <p>{each.reason}</p>
            <p className={css.soft}>
              {each.kind !== 'inspection' && `${VISIT_KINDS[each.kind]}. `}
              {wishes(each)} By {REQUEST_SOURCES[each.source].toLowerCase()},{' '}
              {formatDay(each.createdAt.slice(0, 10))}
            </p>
            <div className={css.acts}>
              <Button small look="main" onPress={() => setBooking(each)} aria-label={`Book ${each.line1}`}>
                Book
              </Button>
              <Tel number={each.customerPhone} call={each.customerName} />
              <Button
                small
                look="quiet"
                onPress={() => setWithdrawing(each)}
                aria-label={`Withdraw the request for ${each.line1}`}
              >
                Withdraw
              </Button>
            </div>
          </li>
        ))}
      </ul>
      <Dialog
        title={`Book ${booking?.line1 ?? ''}`}
        isOpen={booking !== null}
        onClose={() => setBooking(null)}
        wide
      >
        {booking && (
          <BookVisit
            given={{
              requestId: booking.id,
              customerId: booking.customerId,
              propertyId: booking.propertyId,
              kind: booking.kind,
              preferredDays: booking.preferredDays,
              note: booking.note,
            }}
            onDone={() => setBooking(null)}
          />
        )}
      </Dialog>
      <Dialog
        title={`Withdraw ${withdrawing?.line1 ?? ''}`}
        isOpen={withdrawing !== null}
        onClose={() => setWithdrawing(null)}
      >
        {withdrawing && <Withdraw request={withdrawing} onDone={() => setWithdrawing(null)} />}
      </Dialog>
    </>
  )
}

function wishes({ preferredDays, preferredTime }: RequestView): string {
  const days = preferredDays.map((each) => formatDay(each, { month: 'short', day: 'numeric' }))
  const wished = [days.join(' or '), preferredTime].filter(Boolean).join(', ')
  return wished ? `Wishes ${wished}.` : 'Any day.'
}

function Withdraw({ request, onDone }: { request: RequestView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [reason, setReason] = useState('')
  const withdraw = useMutation({
    mutationFn: () => http.post(`/requests/${request.id}/withdraw`, { reason }, { version: request.version }),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: requestQueries.all() })
      tell(`The request for ${request.line1} is withdrawn.`)
      onDone()
    },
  })
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        withdraw.mutate()
      }}
      style={{ display: 'grid', gap: 16 }}
    >
      <TextField label="Why" value={reason} onChange={setReason} required maxLength={300} />
      <Fault error={withdraw.error} />
      <Actions>
        <Button type="submit" look="danger" isPending={withdraw.isPending}>
          Withdraw the request
        </Button>
      </Actions>
    </form>
  )
}
