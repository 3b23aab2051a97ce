import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { PutAside } from '../../../server/bounces/schema.ts'
import { dueQueries, messageQueries } from '../../shared/api/due.ts'
import { customerQueries } from '../../shared/api/homes.ts'
import { http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'

export type Aside = PutAside & { email: string }

/** Why nothing is sent to an address: `gone@example.com came back: 5.1.1 no such user`. */
export function asideInWords({ email, reason, detail }: Aside): string {
  if (reason === 'complained') return `${email} marked our mail as unwanted`
  if (reason === 'asked') return `${email} asked for no mail`
  return detail ? `${email} came back: ${detail}` : `${email} came back`
}

export const ASIDE_TAGS: Record<PutAside['reason'], string> = {
  bounced: 'Our mail came back',
  complained: 'Marked as unwanted',
  asked: 'Wants no mail',
}

/** Takes an address off the list of those put aside, once somebody has said why. */
export function WriteAgain({ aside }: { aside: Aside }) {
  const [isOpen, setOpen] = useState(false)
  const close = () => setOpen(false)
  return (
    <>
      <Button small onPress={() => setOpen(true)} aria-label={`Write to it again: ${aside.email}`}>
        Write to it again
      </Button>
      <Dialog title="Write to this address again?" isOpen={isOpen} onClose={close}>
        <Lift aside={aside} onDone={close} />
      </Dialog>
    </>
  )
}

function Lift({ aside, onDone }: { aside: Aside; onDone: () => void }) {
  const { email, reason, detail } = aside
  const queryClient = useQueryClient()
  const [why, setWhy] = useState('')
  const isTheirWish = reason !== 'bounced'
  const lift = useMutation({
    mutationFn: () => http.post('/messages/unreachable/lift', { email, why }),
    onSuccess: () => {
      for (const { all } of [messageQueries, customerQueries, dueQueries])
        void queryClient.invalidateQueries({ queryKey: all() })
      tell(`Mail goes to ${email} again.`)
      onDone()
    },
  })
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault()
        lift.mutate()
      }}
      style={{ display: 'grid', gap: 16 }}
    >
      {isTheirWish ? (
        <p>
          {asideInWords(aside)}. Write to it again only if they have asked you to: providers of mailboxes put
          senders aside who go on uninvited.
        </p>
      ) : (
        <p>
          Our mail to {email} came back. {detail ? `The answer was: “${detail}”.` : 'No reason was given.'} If
          it does so again, the address is put aside again.
        </p>
      )}
      {isTheirWish && (
        <TextField
          label="Who asked for it, and when"
          help="Kept in the record of changes"
          value={why}
          onChange={setWhy}
          required
          maxLength={500}
        />
      )}
      <Fault error={lift.error} />
      <Actions>
        <Button type="submit" look="main" isPending={lift.isPending}>
          Write to it again
        </Button>
      </Actions>
    </form>
  )
}
