import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { BulkResult } from '../../../server/follow-ups/schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Dialog } from '../../shared/ui/dialog.tsx'
import { SelectField, TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import { BulkBooking } from './bulk-booking.tsx'
import { LOGGED_WORDS } from './call-keys.ts'
import css from './due.module.css'
import { WriteNow } from './write-now.tsx'

type Act =
  | { action: 'message'; all: boolean }
  | { action: 'dismiss'; reason: string }
  | { action: 'call'; outcome: string; note: string }

/** What can be done with several at once; what was left alone, and why, is said. */
export function BulkActs({ ids, onDone }: { ids: readonly string[]; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [note, setNote] = useState('')
  const [outcome, setOutcome] = useState('')
  const [isBooking, setBooking] = useState(false)
  const [isWriting, setWriting] = useState(false)
  const act = useMutation({
    mutationFn: (body: Act) => http.post<BulkResult>('/follow-ups/bulk', { ids, ...body }),
    onSuccess: (result, { action }) => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      tell(`${DONE[action](result)}${leftInWords(result)}`)
      onDone()
    },
  })
  return (
    <div className={css.bulk} role="region" aria-label="With those chosen">
      <strong>{ids.length} chosen</strong>
      <Button look="main" onPress={() => setBooking(true)}>
        Book one trip
      </Button>
      <Button onPress={() => setWriting(true)}>Write to them now…</Button>
      <SelectField
        label="Called them"
        value={outcome}
        onChange={setOutcome}
        options={LOGGED_WORDS}
        empty="What came of it"
      />
      <TextField label="Reason or note" value={note} onChange={setNote} maxLength={500} />
      <Button
        isDisabled={!outcome}
        isPending={act.isPending}
        onPress={() => act.mutate({ action: 'call', outcome, note })}
      >
        Log the call
      </Button>
      <Button
        isDisabled={!note.trim()}
        isPending={act.isPending}
        onPress={() => act.mutate({ action: 'dismiss', reason: note })}
      >
        Dismiss
      </Button>
      <Button look="quiet" onPress={onDone}>
        Choose none
      </Button>
      <Fault error={act.error} />
      <Dialog title="Write to them now" isOpen={isWriting} onClose={() => setWriting(false)}>
        <WriteNow
          ids={ids}
          isPending={act.isPending}
          onWrite={(all) => act.mutate({ action: 'message', all }, { onSettled: () => setWriting(false) })}
        />
      </Dialog>
      <Dialog title="Book one trip" isOpen={isBooking} onClose={() => setBooking(false)} wide>
        <BulkBooking
          ids={ids}
          onDone={() => {
            setBooking(false)
            onDone()
          }}
        />
      </Dialog>
    </div>
  )
}

const DONE: Record<Act['action'], (result: BulkResult) => string> = {
  message: ({ messages }) =>
    messages === 1 ? 'One letter is on its way.' : `${messages} letters are on their way.`,
  dismiss: ({ done }) => `${done} dismissed.`,
  call: ({ done }) => `Written down for ${done}.`,
}

const leftInWords = ({ left }: BulkResult) =>
  left.length > 0 ? ` ${left.length} left alone: ${left[0]!.why}` : ''
