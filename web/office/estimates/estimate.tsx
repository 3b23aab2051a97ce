import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, useNavigate, useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { EstimateView } from '../../../server/estimates/schema.ts'
import { mayTakeStep } from '../../../trade/estimates/states.ts'
import { estimateQueries } from '../../shared/api/estimates.ts'
import { http } from '../../shared/api/http.ts'
import { formatDay, formatInstant } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { Card, Facts, Page } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { Tel } from '../../shared/ui/tel.tsx'
import { SignedWords } from '../inspections/signed-words.tsx'
import { BookVisit } from '../visits/book-visit.tsx'
import { EstimateForm } from './estimate-form.tsx'
import { EstimateLines } from './estimate-lines.tsx'
import { EstimateStateTag } from './estimate-state.tsx'
import { ToldAnswer } from './told-answer.tsx'

export function Estimate() {
  const { id } = useParams({ strict: false }) as { id: string }
  const estimate = useQuery(estimateQueries.one(id))
  if (estimate.isPending) return <Waiting />
  if (estimate.isError) return <Failed error={estimate.error} retry={() => void estimate.refetch()} />
  return <EstimatePage key={id} estimate={estimate.data} />
}

/** An offer from its first line to the answer. */
function EstimatePage({ estimate }: { estimate: EstimateView }) {
  const [isTouched, setIsTouched] = useState(false)
  const [asking, setAsking] = useState<'send' | 'withdraw' | 'answer' | 'book' | null>(null)
  /** Once sent, the form goes on from the version that was sent. */
  const [round, setRound] = useState(0)
  const { state, signature } = estimate
  const done = () => setAsking(null)
  return (
    <Page
      title={`Estimate ${estimate.number}`}
      under={
        <>
          <Link to="/homes/$id" params={{ id: estimate.propertyId }}>
            {estimate.line1}, {estimate.city}
          </Link>{' '}
          <EstimateStateTag state={state} />
        </>
      }
      actions={
        <>
          <CopyEstimate estimate={estimate} />
          {mayTakeStep('record', state) && (
            <Button isDisabled={isTouched} onPress={() => setAsking('answer')}>
              Write down their answer
            </Button>
          )}
          {mayTakeStep('withdraw', state) && (
            <Button look="danger" onPress={() => setAsking('withdraw')}>
              Withdraw
            </Button>
          )}
          {mayTakeStep('send', state) && (
            <Button look="main" isDisabled={isTouched} onPress={() => setAsking('send')}>
              {isTouched ? 'Save before sending' : 'Send'}
            </Button>
          )}
          {state === 'accepted' && (
            <Button look="main" onPress={() => setAsking('book')}>
              Book the repair
            </Button>
          )}
        </>
      }
    >
      <Card title="Who and when">
        <Facts
          facts={[
            [
              'Customer',
              <Link key="c" to="/customers/$id" params={{ id: estimate.customerId }}>
                {estimate.customerName}
              </Link>,
            ],
            ['Phone', estimate.customerPhone && <Tel number={estimate.customerPhone} />],
            ['E-mail', estimate.customerEmail],
            ['Written by', estimate.createdByName],
            ['Sent', estimate.sentAt && formatInstant(estimate.sentAt, estimate.timeZone)],
            ['Open until', estimate.expiresOn && formatDay(estimate.expiresOn)],
            ['Decided', estimate.decidedAt && formatInstant(estimate.decidedAt, estimate.timeZone)],
            ...(signature?.reason ? [['Why', signature.reason] as [string, string]] : []),
          ]}
        />
        {signature && (
          <SignedWords
            signature={{ ...signature, at: estimate.decidedAt }}
            timeZone={estimate.timeZone}
            what={state === 'accepted' ? 'Accepted' : 'Declined'}
          />
        )}
      </Card>
      {mayTakeStep('change', state) ? (
        <EstimateForm key={round} estimate={estimate} onTouched={setIsTouched} />
      ) : (
        <EstimateLines estimate={estimate} />
      )}
      <Dialog title={`Send estimate ${estimate.number}`} isOpen={asking === 'send'} onClose={done}>
        <Step
          estimate={estimate}
          step="send"
          words={`${estimate.customerName} gets an e-mail with a private page to accept or decline it on. Its findings are then on an estimate.`}
          said="is on its way."
          onDone={() => {
            done()
            setRound(round + 1)
          }}
        />
      </Dialog>
      <Dialog
        title={`What they said to estimate ${estimate.number}`}
        isOpen={asking === 'answer'}
        onClose={done}
      >
        <ToldAnswer estimate={estimate} onDone={done} />
      </Dialog>
      <Dialog title={`Withdraw estimate ${estimate.number}`} isOpen={asking === 'withdraw'} onClose={done}>
        <Step
          estimate={estimate}
          step="withdraw"
          words="It can no longer be accepted, and its page says so. What it offers is open again."
          said="is withdrawn."
          onDone={done}
        />
      </Dialog>
      <Dialog title={`Book the repair, ${estimate.line1}`} isOpen={asking === 'book'} onClose={done} wide>
        <BookVisit
          given={{
            ...(estimate.repairWaits && { requestId: estimate.id }),
            customerId: estimate.customerId,
            propertyId: estimate.propertyId,
            kind: 'repair',
            note: `Estimate ${estimate.number}`,
          }}
          onDone={done}
        />
      </Dialog>
    </Page>
  )
}

function Step({
  estimate,
  step,
  words,
  said,
  onDone,
}: {
  estimate: EstimateView
  step: 'send' | 'withdraw'
  words: string
  said: string
  onDone: () => void
}) {
  const queryClient = useQueryClient()
  const take = useMutation({
    mutationFn: () =>
      http.post<EstimateView>(`/estimates/${estimate.id}/${step}`, {}, { version: estimate.version }),
    onSuccess: (after) => {
      queryClient.setQueryData(estimateQueries.one(after.id).queryKey, after)
      void queryClient.invalidateQueries({ queryKey: estimateQueries.all() })
      void queryClient.invalidateQueries({ queryKey: ['homes'] })
      tell(`Estimate ${after.number} ${said}`)
      onDone()
    },
  })
  return (
    <>
      <p>{words}</p>
      <Fault error={take.error} />
      <Actions>
        <Button
          look={step === 'send' ? 'main' : 'danger'}
          onPress={() => take.mutate()}
          isPending={take.isPending}
        >
          {step === 'send' ? 'Send it' : 'Withdraw it'}
        </Button>
      </Actions>
    </>
  )
}

function CopyEstimate({ estimate }: { estimate: EstimateView }) {
  const queryClient = useQueryClient()
  const navigate = useNavigate()
  const [copyId] = useState(() => newId())
  const copy = useMutation({
    mutationFn: () => http.post<EstimateView>(`/estimates/${estimate.id}/copy`, { id: copyId }),
    onSuccess: (made) => {
      void queryClient.invalidateQueries({ queryKey: estimateQueries.all() })
      tell(`Estimate ${made.number} is a copy of estimate ${estimate.number}.`)
      void navigate({ to: '/estimates/$id', params: { id: made.id } })
    },
  })
  return (
    <>
      <Button onPress={() => copy.mutate()} isPending={copy.isPending}>
        Copy as a draft
      </Button>
      <Fault error={copy.error} />
    </>
  )
}
