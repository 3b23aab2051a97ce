import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { FreeWindowsView, VisitView } from '../../../server/visits/schema.ts'
import { ARRIVAL_WINDOWS, VISIT_KINDS, type VisitKind } from '../../../trade/visits.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { requestQueries, techniciansQuery, visitQueries } from '../../shared/api/visits.ts'
import { formatDay, formatMinutes, formatTime, formatWeekday } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './book-visit.module.css'

export interface Booking {
  customerId: string
  propertyId: string
  requestId?: string
  kind: VisitKind
  preferredDays?: readonly string[]
  note?: string
}

/** Day, arrival window, length and technician. Free places are offered; what clashes is said by the server, in words. */
export function BookVisit({
  given,
  moving,
  onDone,
}: {
  given: Booking
  moving?: VisitView
  onDone: () => void
}) {
  const queryClient = useQueryClient()
  const { data: me } = useQuery(meQuery)
  const technicians = useQuery(techniciansQuery)
  const [id] = useState(() => newId())
  const [day, setDay] = useState(given.preferredDays?.[0] ?? me?.today ?? '')
  const [windowStart, setWindowStart] = useState<string>(ARRIVAL_WINDOWS[0].start)
  const [windowEnd, setWindowEnd] = useState<string>(ARRIVAL_WINDOWS[0].end)
  /** When the technician would begin, where that is later than the window does. */
  const [startsAt, setStartsAt] = useState<string | null>(null)
  const [length, setLength] = useState(moving ? String(moving.lengthMinutes) : '')
  const [technicianId, setTechnicianId] = useState(moving?.technicianId ?? '')
  const [kind, setKind] = useState<VisitKind>(given.kind)
  const [note, setNote] = useState(given.note ?? '')
  const free = useQuery({
    queryKey: ['visits', 'free', given.propertyId, day],
    queryFn: () =>
      http.get<FreeWindowsView>('/visits/free-windows', { propertyId: given.propertyId, from: day, days: 5 }),
    enabled: day !== '',
  })
  const book = useMutation({
    mutationFn: () => {
      const appointment = {
        day,
        windowStart,
        windowEnd,
        technicianId,
        ...(startsAt && { startsAt }),
        ...(length && { lengthMinutes: Number(length) }),
      }
      if (moving)
        return http.post<VisitView>(`/visits/${moving.id}/move`, appointment, { version: moving.version })
      const { customerId, propertyId, requestId } = given
      return http.post<VisitView>('/visits', {
        id,
        customerId,
        propertyId,
        ...(requestId && { requestId }),
        kind,
        note,
        ...appointment,
      })
    },
    onSuccess: (visit) => {
      void queryClient.invalidateQueries({ queryKey: visitQueries.all() })
      void queryClient.invalidateQueries({ queryKey: requestQueries.all() })
      void queryClient.invalidateQueries({ queryKey: ['due'] })
      void queryClient.invalidateQueries({ queryKey: ['homes'] })
      tell(
        `${visit.line1} is booked for ${formatDay(day)}, ${formatTime(visit.windowStartsAt, visit.timeZone)}.` +
          (visit.customerEmail
            ? ' The customer gets an e-mail.'
            : ' No e-mail is known: phone the customer.'),
      )
      onDone()
    },
  })
  /** What is typed by hand begins when its window does. */
  const typed = (set: (value: string) => void) => (value: string) => {
    set(value)
    setStartsAt(null)
  }
  const fault = (pointer: string) =>
    book.error instanceof ApiProblem ? book.error.faults.get(pointer) : undefined
  const submit = (event: FormEvent) => {
    event.preventDefault()
    book.mutate()
  }
  return (
    <form onSubmit={submit} className={css.form}>
      <FieldRow>
        <TextField
          label="Day"
          type="date"
          value={day}
          onChange={typed(setDay)}
          min={me?.today ?? ''}
          fault={fault('#/day')}
          required
        />
        <TextField
          label="Arrives from"
          type="time"
          value={windowStart}
          onChange={typed(setWindowStart)}
          fault={fault('#/windowStart')}
          required
        />
        <TextField
          label="until"
          type="time"
          value={windowEnd}
          onChange={setWindowEnd}
          fault={fault('#/windowEnd')}
          required
        />
        <TextField
          label="Minutes there"
          type="number"
          min={10}
          max={1440}
          value={length}
          onChange={setLength}
          fault={fault('#/lengthMinutes')}
          help={free.data ? `Left empty: ${formatMinutes(free.data.lengthMinutes)}` : undefined}
        />
      </FieldRow>
      <FieldRow>
        <SelectField
          label="Technician"
          value={technicianId}
          onChange={typed(setTechnicianId)}
          options={(technicians.data ?? []).map((each) => [each.id, each.name] as const)}
          empty="Choose"
          fault={fault('#/technicianId')}
          required
        />
        {!moving && (
          <SelectField
            label="What for"
            value={kind}
            onChange={(value) => setKind(value as VisitKind)}
            options={VISIT_KINDS}
          />
        )}
      </FieldRow>
      <fieldset className={css.free}>
        <legend>Free from {day ? formatDay(day) : 'that day'} on</legend>
        {free.isFetching && !free.data && <Waiting />}
        {free.data?.windows.length === 0 && <p>Nobody is free in these five days.</p>}
        <div className={css.windows}>
          {free.data?.windows.slice(0, 16).map((each) => (
            <button
              key={`${each.day}${each.windowStart}`}
              type="button"
              aria-pressed={each.day === day && each.windowStart === windowStart}
              onClick={() => {
                setDay(each.day)
                setWindowStart(each.windowStart)
                setWindowEnd(each.windowEnd)
                const first = each.technicians.find((free) => free.id === technicianId) ?? each.technicians[0]
                if (first) setTechnicianId(first.id)
                setStartsAt(first?.startsAt ?? null)
              }}
            >
              <strong>{formatWeekday(each.day)}</strong>
              <span>
                {each.windowStart}–{each.windowEnd}
              </span>
              <span className={css.who}>{each.technicians.map((free) => free.name).join(', ')}</span>
            </button>
          ))}
        </div>
      </fieldset>
      {!moving && (
        <TextArea label="Note for the technician" value={note} onChange={setNote} rows={2} maxLength={2000} />
      )}
      <Fault error={book.error} />
      <Actions>
        <Button type="submit" look="main" isPending={book.isPending}>
          {moving ? 'Move the visit' : 'Book the visit'}
        </Button>
      </Actions>
    </form>
  )
}
