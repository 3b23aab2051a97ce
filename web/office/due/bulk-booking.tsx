import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { BookingPlan, BulkBooked, PlannedStop } from '../../../server/follow-ups/booking-schema.ts'
import { VISIT_KINDS } from '../../../trade/visits.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { meQuery } from '../../shared/api/me.ts'
import { techniciansQuery, visitQueries } from '../../shared/api/visits.ts'
import { formatDay, formatMinutes } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { FieldRow, SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Fault, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './due.module.css'

/** One technician, one day, several homes: arrival windows one after another. All are booked, or none. */
export function BulkBooking({ ids, onDone }: { ids: readonly string[]; onDone: () => void }) {
  const queryClient = useQueryClient()
  const { data: me } = useQuery(meQuery)
  const technicians = useQuery(techniciansQuery)
  const [technicianId, setTechnicianId] = useState('')
  const [day, setDay] = useState('')
  const [from, setFrom] = useState('08:00')
  /** Made once: the same press again books the same visits. */
  const [visitIds] = useState(() => new Map<string, string>())
  const plan = useQuery({
    queryKey: [...dueQueries.all(), 'booking-plan', technicianId, day, from, ids],
    queryFn: () => http.post<BookingPlan>('/follow-ups/booking-plan', { ids, technicianId, day, from }),
    enabled: technicianId !== '' && day !== '' && from !== '',
    gcTime: 0,
  })
  const free = plan.data?.stops.filter((stop) => stop.conflict === null) ?? []
  const book = useMutation({
    mutationFn: () =>
      http.post<BulkBooked>('/follow-ups/bulk-booking', { technicianId, day, visits: free.map(visitOf) }),
    onSuccess: ({ visits, toPhone }) => {
      void queryClient.invalidateQueries({ queryKey: visitQueries.all() })
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      const phone = toPhone.length > 0 ? ` No e-mail is known, phone: ${toPhone.join('; ')}.` : ''
      tell(`${visits.length} booked for ${formatDay(day)}.${phone}`)
      onDone()
    },
  })
  function visitOf(stop: PlannedStop) {
    const id = visitIds.get(stop.propertyId) ?? newId()
    visitIds.set(stop.propertyId, id)
    const { propertyId, customerId, kind, windowStart, windowEnd, startsAt, lengthMinutes, requestId } = stop
    const note = stop.sees.join('; ').slice(0, 2000)
    return {
      ...{ id, propertyId, customerId, kind, windowStart, windowEnd, startsAt, lengthMinutes, note },
      ...(requestId && { requestId }),
    }
  }
  return (
    <>
      <FieldRow>
        <SelectField
          label="Technician"
          value={technicianId}
          onChange={setTechnicianId}
          options={(technicians.data ?? []).map((each) => [each.id, each.name] as const)}
          empty="Choose"
          required
        />
        <TextField label="Day" type="date" value={day} onChange={setDay} min={me?.today ?? ''} required />
        <TextField label="Not before" type="time" value={from} onChange={setFrom} required />
      </FieldRow>
      {!plan.isEnabled && <p>Choose who goes and when; the arrival windows follow one after another.</p>}
      {plan.isLoading && <Waiting />}
      <Fault error={plan.error ?? book.error} />
      {plan.data && (
        <>
          <Table
            caption="Homes in the order of the trip"
            rows={plan.data.stops}
            rowKey={(each) => each.propertyId}
            columns={[
              {
                name: 'Home',
                cell: (each) => (
                  <>
                    {each.line1}
                    <small className={css.small}>{each.customerName ?? 'Nobody is named'}</small>
                  </>
                ),
              },
              {
                name: 'Arrival',
                long: true,
                cell: (each) =>
                  each.conflict ? (
                    <span className={css.conflict}>{each.conflict}</span>
                  ) : (
                    `${each.windowStart}–${each.windowEnd}, begins ${each.startsAt}`
                  ),
              },
              {
                name: 'For',
                cell: (each) => `${VISIT_KINDS[each.kind]}, ${formatMinutes(each.lengthMinutes)}`,
              },
              { name: 'Sees to', long: true, cell: (each) => each.sees.join('; ') },
            ]}
          />
          {plan.data.left.length > 0 && (
            <p>
              {plan.data.left.length} left alone: {plan.data.left[0]!.why}
            </p>
          )}
          {free.length < plan.data.stops.length && (
            <p>Homes with a reason beside them are left out; they stay on the list.</p>
          )}
        </>
      )}
      <Actions>
        <Button
          look="main"
          isDisabled={free.length === 0 || plan.isFetching}
          isPending={book.isPending}
          onPress={() => book.mutate()}
        >
          {free.length === 1 ? 'Book one visit' : `Book ${free.length} visits`}
        </Button>
      </Actions>
    </>
  )
}
