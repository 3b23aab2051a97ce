import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import { useState } from 'react'
import type { BookingView } from '../../../server/follow-ups/schema.ts'
import type { VisitKind } from '../../../trade/visits.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { formatDay, formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { FieldRow, TextField } from '../../shared/ui/fields.tsx'
import { Facts } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { BookVisit } from '../visits/book-visit.tsx'
import css from './due.module.css'

const OUTCOMES = {
  reached: 'Reached',
  'no-answer': 'No answer',
  'will-call-back': 'They call back',
  declined: 'Declined',
  'wrong-number': 'Wrong number',
} as const

/** One thing that is due: what to say on the phone, what came of it, and what to do. */
export function DueDetail({ id, onDone }: { id: string; onDone: () => void }) {
  const queryClient = useQueryClient()
  const due = useQuery(dueQueries.one(id))
  const booking = useQuery({
    queryKey: ['due', 'booking', id],
    queryFn: () => http.get<BookingView>(`/follow-ups/${id}/booking`),
    enabled: false,
  })
  const [isBooking, setBooking] = useState(false)
  const [note, setNote] = useState('')
  const [until, setUntil] = useState('')
  const act = useMutation({
    mutationFn: ({ verb, body }: { verb: string; body: object; said: string }) =>
      http.post(`/follow-ups/${id}/${verb}`, body),
    onSuccess: (_, { said }) => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      tell(said)
      onDone()
    },
  })
  if (due.isPending) return <Waiting />
  if (due.isError) return <Failed error={due.error} retry={() => void due.refetch()} />
  const it = due.data
  if (isBooking && booking.data?.customerId) {
    const { customerId, propertyId, kind, requestId, reason } = booking.data
    return (
      <BookVisit
        given={{
          customerId,
          propertyId,
          kind: kind as VisitKind,
          note: reason,
          ...(requestId && { requestId }),
        }}
        onDone={onDone}
      />
    )
  }
  const book = async () => {
    await booking.refetch()
    setBooking(true)
  }
  return (
    <>
      <Facts
        facts={[
          ['About', it.subject],
          ['Due', formatDay(it.dueOn)],
          ['Why', it.reason],
          ['Customer', it.customerName],
          ['Phone', it.customerPhone && <a href={`tel:${it.customerPhone}`}>{it.customerPhone}</a>],
          ['Next letter', it.nextNoticeOn && formatDay(it.nextNoticeOn)],
        ]}
      />
      {it.script.length > 0 && (
        <ol className={css.script} aria-label="What to say on the phone">
          {it.script.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ol>
      )}
      {!it.closedAt && (
        <>
          <TextField
            label="Note"
            value={note}
            onChange={setNote}
            maxLength={500}
            help="Goes with whatever you choose below"
          />
          <div className={css.acts} role="group" aria-label="After the call">
            {Object.entries(OUTCOMES).map(([outcome, words]) => (
              <Button
                key={outcome}
                small
                onPress={() =>
                  act.mutate({ verb: 'call', body: { outcome, note }, said: 'The call is written down.' })
                }
              >
                {words}
              </Button>
            ))}
          </div>
          <FieldRow>
            <TextField label="Ask again on" type="date" value={until} onChange={setUntil} />
          </FieldRow>
          <div className={css.acts}>
            <Button look="main" onPress={() => void book()} isDisabled={!it.customerId}>
              Book a visit
            </Button>
            <Button
              isDisabled={!until}
              onPress={() =>
                act.mutate({ verb: 'snooze', body: { until }, said: `Put off until ${formatDay(until)}.` })
              }
            >
              Put off
            </Button>
            <Button
              isDisabled={!note.trim()}
              onPress={() => act.mutate({ verb: 'done', body: { reason: note }, said: 'It is done.' })}
            >
              Done
            </Button>
            <Button
              isDisabled={!note.trim()}
              look="danger"
              onPress={() =>
                act.mutate({ verb: 'dismiss', body: { reason: note }, said: 'It is dismissed.' })
              }
            >
              Dismiss
            </Button>
          </div>
          {!note.trim() && <p>“Done” and “Dismiss” need a word in the note.</p>}
        </>
      )}
      <Fault error={act.error} />
      <h3>What happened</h3>
      {it.messages.length + it.calls.length === 0 && <p>Nobody has been told yet.</p>}
      <ul>
        {it.messages.map((each) => (
          <li key={each.id}>
            <Link to="/messages/$id" params={{ id: each.id }}>
              {each.subject ?? each.kind}
            </Link>
            , {each.sentAt ? `sent ${formatInstant(each.sentAt)}` : each.state}
            {each.openedPageAt && `, page opened ${formatInstant(each.openedPageAt)}`}
            {each.actedAt && `, answered ${formatInstant(each.actedAt)}`}
          </li>
        ))}
        {it.calls.map((each) => (
          <li key={each.id}>
            {each.by} called, {formatInstant(each.at)}:{' '}
            {OUTCOMES[each.outcome as keyof typeof OUTCOMES] ?? each.outcome}
            {each.note && `, “${each.note}”`}
          </li>
        ))}
      </ul>
    </>
  )
}
