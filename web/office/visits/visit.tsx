import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { VisitView } from '../../../server/visits/schema.ts'
import { mayTake, MOVABLE_STATES, VISIT_KINDS } from '../../../trade/visits.ts'
import { http } from '../../shared/api/http.ts'
import { visitQueries } from '../../shared/api/visits.ts'
import {
  dayInZone,
  formatInstant,
  formatMinutes,
  formatSpan,
  formatTime,
  formatWeekday,
} from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Card, Facts, Page } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { BookVisit } from './book-visit.tsx'
import { VisitStateTag } from './visit-state.tsx'

export function Visit() {
  const { id } = useParams({ strict: false }) as { id: string }
  const visit = useQuery(visitQueries.one(id))
  if (visit.isPending) return <Waiting />
  if (visit.isError) return <Failed error={visit.error} retry={() => void visit.refetch()} />
  return <VisitPage visit={visit.data} />
}

type Act = 'move' | 'cancel' | 'no-access'

function VisitPage({ visit }: { visit: VisitView }) {
  const [act, setAct] = useState<Act | null>(null)
  const done = () => setAct(null)
  const day = dayInZone(visit.startsAt, visit.timeZone)
  return (
    <Page
      title={visit.line1}
      under={
        <>
          {VISIT_KINDS[visit.kind]} on {formatWeekday(day)} <VisitStateTag state={visit.state} />
        </>
      }
      actions={
        <>
          {MOVABLE_STATES.includes(visit.state) && <Button onPress={() => setAct('move')}>Move</Button>}
          {mayTake('no-access', visit.state) && (
            <Button onPress={() => setAct('no-access')}>Nobody let us in</Button>
          )}
          {mayTake('cancel', visit.state) && (
            <Button look="danger" onPress={() => setAct('cancel')}>
              Cancel the visit
            </Button>
          )}
        </>
      }
    >
      <Card title="Visit">
        <Facts
          facts={
            [
              ['Arrival window', formatSpan(visit.windowStartsAt, visit.windowEndsAt, visit.timeZone)],
              ['Planned start', formatTime(visit.startsAt, visit.timeZone)],
              ['Length', formatMinutes(visit.lengthMinutes)],
              ['Technician', visit.technicianName],
              [
                'Customer',
                <Link key="c" to="/customers/$id" params={{ id: visit.customerId }}>
                  {visit.customerName}
                </Link>,
              ],
              ['Phone', visit.customerPhone && <Tel number={visit.customerPhone} />],
              [
                'Home',
                <Link
                  key="h"
                  to="/homes/$id"
                  params={{ id: visit.propertyId }}
                >{`${visit.line1}, ${visit.city} ${visit.postcode}`}</Link>,
              ],
              ['How to get in', visit.accessNotes || null],
              ['Note', visit.note || null],
              [
                'Confirmed by the customer',
                visit.confirmedAt && formatInstant(visit.confirmedAt, visit.timeZone),
              ],
              [
                'On the way since',
                visit.travelStartedAt && formatInstant(visit.travelStartedAt, visit.timeZone),
              ],
              ['Arrived', visit.arrivedAt && formatInstant(visit.arrivedAt, visit.timeZone)],
              ['Finished', visit.finishedAt && formatInstant(visit.finishedAt, visit.timeZone)],
              ['Why it ended', visit.closedReason],
              [
                'Inspection',
                visit.inspectionId && (
                  <Link key="i" to="/inspections/$id" params={{ id: visit.inspectionId }}>
                    {visit.inspectionState}
                  </Link>
                ),
              ],
            ].filter((fact): fact is [string, NonNullable<(typeof fact)[1]>] => Boolean(fact[1])) as [
              string,
              string,
            ][]
          }
        />
      </Card>
      <Dialog title={`Move ${visit.line1}`} isOpen={act === 'move'} onClose={done} wide>
        <BookVisit
          given={{
            customerId: visit.customerId,
            propertyId: visit.propertyId,
            kind: visit.kind,
            preferredDays: [day],
          }}
          moving={visit}
          onDone={done}
        />
      </Dialog>
      <Dialog title={`Cancel ${visit.line1}`} isOpen={act === 'cancel'} onClose={done}>
        <Close
          visit={visit}
          step="cancel"
          words="Cancel the visit"
          said="is cancelled; the customer is told"
          onDone={done}
        />
      </Dialog>
      <Dialog title={`Nobody let us in at ${visit.line1}`} isOpen={act === 'no-access'} onClose={done}>
        <Close
          visit={visit}
          step="no-access"
          words="Record it"
          said="is recorded; the customer is asked for another day"
          onDone={done}
        />
      </Dialog>
    </Page>
  )
}

function Close({
  visit,
  step,
  words,
  said,
  onDone,
}: {
  visit: VisitView
  step: 'cancel' | 'no-access'
  words: string
  said: string
  onDone: () => void
}) {
  const queryClient = useQueryClient()
  const [reason, setReason] = useState('')
  const close = useMutation({
    mutationFn: () => http.post(`/visits/${visit.id}/${step}`, { reason }, { version: visit.version }),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: visitQueries.all() })
      void queryClient.invalidateQueries({ queryKey: ['requests'] })
      tell(`The visit at ${visit.line1} ${said}.`)
      onDone()
    },
  })
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        close.mutate()
      }}
      style={{ display: 'grid', gap: 16 }}
    >
      <TextField label="Why" value={reason} onChange={setReason} maxLength={500} required />
      <Fault error={close.error} />
      <Actions>
        <Button type="submit" look="danger" isPending={close.isPending}>
          {words}
        </Button>
      </Actions>
    </form>
  )
}
