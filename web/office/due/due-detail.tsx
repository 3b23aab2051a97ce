import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import type { BookingView, FollowUpView } from '../../../server/follow-ups/schema.ts'
import type { VisitKind } from '../../../trade/visits.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { formatDay, formatInstant } from '../../shared/format.ts'
import { LANGUAGES } from '../../shared/languages.ts'
import { Button } from '../../shared/ui/button.tsx'
import { FieldRow, TextField } from '../../shared/ui/fields.tsx'
import { Facts } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { BookVisit } from '../visits/book-visit.tsx'
import { type Outcome, OUTCOMES, shortcutOf } from './call-keys.ts'
import { CallOutcomes } from './call-outcomes.tsx'
import { DueHistory } from './due-history.tsx'
import css from './due.module.css'
import { nextInWords, spanInWords } from './next-step.ts'

/** One thing that is due: what to say on the phone, what came of it, and what to do. */
export function DueDetail({ id, areKeysOn, onDone }: { id: string; areKeysOn: boolean; onDone: () => void }) {
  const due = useQuery(dueQueries.one(id))
  const [isBooking, setBooking] = useState(false)
  if (due.isPending) return <Waiting />
  if (due.isError) return <Failed error={due.error} retry={() => void due.refetch()} />
  if (isBooking) return <Book id={id} onDone={onDone} />
  return <Opened it={due.data} areKeysOn={areKeysOn} onBook={() => setBooking(true)} onDone={onDone} />
}

function Book({ id, onDone }: { id: string; onDone: () => void }) {
  const booking = useQuery({
    queryKey: [...dueQueries.all(), 'booking', id],
    queryFn: () => http.get<BookingView>(`/follow-ups/${id}/booking`),
  })
  if (booking.isPending) return <Waiting />
  if (booking.isError) return <Failed error={booking.error} retry={() => void booking.refetch()} />
  const { customerId, propertyId, kind, requestId, reason } = booking.data
  if (!customerId) return <p role="alert">Nobody is named for this home: enter who lives there first.</p>
  const given = {
    customerId,
    propertyId,
    kind: kind as VisitKind,
    note: reason,
    ...(requestId && { requestId }),
  }
  return <BookVisit given={given} onDone={onDone} />
}

function Opened({
  it,
  areKeysOn,
  onBook,
  onDone,
}: {
  it: FollowUpView
  areKeysOn: boolean
  onBook: () => void
  onDone: () => void
}) {
  const queryClient = useQueryClient()
  const [note, setNote] = useState('')
  const [until, setUntil] = useState('')
  const here = useRef<HTMLDivElement>(null)
  useEffect(() => here.current?.focus({ preventScroll: true }), [])
  const act = useMutation({
    mutationFn: ({ verb, body }: { verb: string; body: object; said: string; then: () => void }) =>
      http.post(`/follow-ups/${it.id}/${verb}`, body),
    onSuccess: (_, { said, then }) => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      tell(said)
      then()
    },
  })
  const call = (outcome: Outcome) => {
    const { logged, words } = OUTCOMES[outcome]
    const again = logged === 'call-later' && until ? { again: until } : {}
    const said = `Written down: ${words}.`
    const then = outcome === 'booked' ? onBook : onDone
    act.mutate({ verb: 'call', body: { outcome: logged, note, ...again }, said, then })
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (!areKeysOn || it.closedAt || act.isPending) return
    const key = shortcutOf(event)
    const outcome = (Object.keys(OUTCOMES) as Outcome[]).find((each) => OUTCOMES[each].key === key)
    if (!outcome || (outcome === 'booked' && !it.customerId)) return
    event.preventDefault()
    call(outcome)
  }
  return (
    // Letters count while the focus is in here, which is where the call is: WCAG 2.2 SC 2.1.4.
    <div
      ref={here}
      className={css.opened}
      role="group"
      aria-label={`Call about ${it.subject}`}
      tabIndex={-1}
      onKeyDown={onKeyDown}
    >
      <Facts
        facts={[
          ['About', it.subject],
          [
            'Due',
            it.overdueDays > 0
              ? `${formatDay(it.dueOn)}, ${spanInWords(it.overdueDays)} over`
              : formatDay(it.dueOn),
          ],
          ['Customer', it.customerName ?? 'Nobody is named: ask who lives there'],
          ['Speaks', it.customerLanguage && LANGUAGES[it.customerLanguage]],
          ['Phone', it.customerPhone && <Tel number={it.customerPhone} />],
          ['What is next', nextInWords(it)],
          ...(it.closedAt
            ? [['Ended', [formatInstant(it.closedAt), it.closedReason].filter(Boolean).join(': ')] as const]
            : []),
        ]}
      />
      <ol className={css.script} lang={it.customerLanguage ?? 'en'} aria-label="What to say on the phone">
        {it.script.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ol>
      {!it.closedAt && (
        <>
          <CallOutcomes areKeysOn={areKeysOn} isPending={act.isPending} onOutcome={call} />
          <TextField
            label="Note"
            value={note}
            onChange={setNote}
            maxLength={500}
            help="Goes with whatever you choose"
          />
          <FieldRow>
            <TextField label="Ask or call again on" type="date" value={until} onChange={setUntil} />
          </FieldRow>
          <div className={css.acts} role="group" aria-label="Without a call">
            <Button look="main" onPress={onBook} isDisabled={!it.customerId}>
              Book a visit
            </Button>
            <Button
              isDisabled={!until}
              onPress={() =>
                act.mutate({
                  verb: 'snooze',
                  body: { until },
                  said: `Put off until ${formatDay(until)}.`,
                  then: onDone,
                })
              }
            >
              Put off
            </Button>
            <Button
              isDisabled={!note.trim()}
              onPress={() =>
                act.mutate({ verb: 'done', body: { reason: note }, said: 'It is done.', then: onDone })
              }
            >
              Done
            </Button>
            <Button
              isDisabled={!note.trim()}
              look="danger"
              onPress={() =>
                act.mutate({
                  verb: 'dismiss',
                  body: { reason: note },
                  said: 'It is dismissed.',
                  then: onDone,
                })
              }
            >
              Dismiss
            </Button>
          </div>
          {!note.trim() && <p>“Done” and “Dismiss” need a word in the note.</p>}
        </>
      )}
      {it.closedAt && (
        <div className={css.acts}>
          <Button
            isPending={act.isPending}
            onPress={() => act.mutate({ verb: 'reopen', body: {}, said: 'It is open again.', then: onDone })}
          >
            Reopen
          </Button>
        </div>
      )}
      <Fault error={act.error} />
      <DueHistory it={it} />
    </div>
  )
}
