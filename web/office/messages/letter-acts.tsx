import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import type { AgainView, MessageView } from '../../../server/messages/schema.ts'
import { messageQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { dayInZone, formatInstant, formatTime } from '../../shared/format.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'

/** What can be done about a letter: keep it back, try it again, close its page, send it anew. */
export function LetterActs({
  message,
  onFault,
}: {
  message: MessageView
  onFault: (error: unknown) => void
}) {
  const queryClient = useQueryClient()
  const [asked, setAsked] = useState<'withdraw' | 'again' | null>(null)
  const close = () => setAsked(null)
  const act = useMutation({
    mutationFn: (verb: 'resend' | 'cancel') => http.post(`/messages/${message.id}/${verb}`),
    onMutate: () => onFault(null),
    onError: onFault,
    onSuccess: (_, verb) => {
      void queryClient.invalidateQueries({ queryKey: messageQueries.all() })
      tell(verb === 'resend' ? 'It is sent again.' : 'It will not be sent.')
    },
  })
  return (
    <>
      {message.mayCancel && (
        <Button isPending={act.isPending} onPress={() => act.mutate('cancel')}>
          Do not send it
        </Button>
      )}
      {message.link?.state === 'open' && (
        <Button look="danger" onPress={() => setAsked('withdraw')}>
          Withdraw its link
        </Button>
      )}
      {message.maySendAgain && <Button onPress={() => setAsked('again')}>Send again with a new link</Button>}
      {message.mayResend && (
        <Button look="main" isPending={act.isPending} onPress={() => act.mutate('resend')}>
          Send it again
        </Button>
      )}
      <Dialog title="Withdraw the link in this letter?" isOpen={asked === 'withdraw'} onClose={close}>
        <Withdraw message={message} onDone={close} />
      </Dialog>
      <Dialog title="Send it again with a new link?" isOpen={asked === 'again'} onClose={close}>
        <SendAgain message={message} onDone={close} />
      </Dialog>
    </>
  )
}

function Withdraw({ message, onDone }: { message: MessageView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const withdraw = useMutation({
    mutationFn: () => http.post(`/links/${message.id}/withdraw`, {}),
    onSuccess: () => {
      void queryClient.invalidateQueries({ queryKey: messageQueries.all() })
      tell('Withdrawn: whoever opens it reads whom to phone.')
      onDone()
    },
  })
  return (
    <>
      <p>
        For a letter that fell into other hands. Its page answers with your phone number only from now on;
        other letters to {message.toName} keep theirs. It cannot be undone, but the letter can be sent again
        with a new link.
      </p>
      <Fault error={withdraw.error} />
      <Actions>
        <Button look="danger" isPending={withdraw.isPending} onPress={() => withdraw.mutate()}>
          Withdraw it
        </Button>
      </Actions>
    </>
  )
}

function SendAgain({ message, onDone }: { message: MessageView; onDone: () => void }) {
  const again = useQuery({
    ...messageQueries.again(message.id),
    // It may be night by now, or the address put aside.
    staleTime: 0,
    gcTime: 0,
  })
  if (again.isPending) return <Waiting />
  if (again.isError) return <Failed error={again.error} retry={() => void again.refetch()} />
  if (again.data.refusal) return <p role="alert">It cannot be sent again. {again.data.refusal}</p>
  return <Confirm message={message} given={again.data} onDone={onDone} />
}

function Confirm({ message, given, onDone }: { message: MessageView; given: AgainView; onDone: () => void }) {
  const queryClient = useQueryClient()
  const navigate = useNavigate()
  // Of the new letter: pressed twice, it is one.
  const [id] = useState(newId)
  const send = useMutation({
    mutationFn: (when: 'by-day' | 'now') =>
      http.post<MessageView>(`/messages/${message.id}/again`, { id, when }),
    onSuccess: (sent, when) => {
      void queryClient.invalidateQueries({ queryKey: messageQueries.all() })
      tell(when === 'now' || !given.isQuiet ? 'It is being sent.' : `It goes out ${morningOf(given)}.`)
      onDone()
      void navigate({ to: '/messages/$id', params: { id: sent.id } })
    },
  })
  return (
    <>
      <p>
        {message.toName} gets the same kind of letter once more, with what is true today and a link of its
        own. The link in this letter stops working at once.
      </p>
      {given.isQuiet && (
        <p>
          <strong>
            It is {formatTime(new Date().toISOString(), given.zone)} at the home, outside the hours for mail.
          </strong>{' '}
          Send it now only if they are waiting for it.
        </p>
      )}
      <Fault error={send.error} />
      <Actions>
        {given.isQuiet && (
          <Button isPending={send.isPending} onPress={() => send.mutate('now')}>
            They are waiting: send now
          </Button>
        )}
        <Button look="main" isPending={send.isPending} onPress={() => send.mutate('by-day')}>
          {given.isQuiet ? `Send ${morningOf(given)}` : 'Send it'}
        </Button>
      </Actions>
    </>
  )
}

/** `at 8:00 AM`, where that is on another day than now, `on Jun 2, 2026, 8:00 AM`. */
function morningOf({ sendAfter, zone, there }: AgainView): string {
  return dayInZone(sendAfter, zone) === there.day
    ? `at ${formatTime(sendAfter, zone)}`
    : `on ${formatInstant(sendAfter, zone)}`
}
