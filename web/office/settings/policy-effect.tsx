import { useState } from 'react'
import type { PreviewView } from '../../../server/follow-up-policy/schema.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import css from './follow-up-policy.module.css'
import { PolicySimulated } from './policy-simulated.tsx'

/** What a change would do. One that writes to many at once is saved only when their number is typed in. */
export function PolicyEffect({
  effect,
  isSaving,
  onSave,
}: {
  effect: PreviewView
  isSaving: boolean
  onSave: () => void
}) {
  const [typed, setTyped] = useState('')
  const { moved, opened, ended, atOnce, thisMonth, atOnceByKind, simulated, confirm } = effect
  const isSure = confirm === null || typed.trim() === String(confirm)
  return (
    <section className={css.effect} aria-label="What would change">
      <h3>What would change</h3>
      <p>
        {moved} follow-ups get another day, {opened} begin to speak, {ended} end.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Messages</th>
            <th scope="col">Now</th>
            <th scope="col">Then</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">With the next round</th>
            <td>{atOnce.before}</td>
            <td>{atOnce.after}</td>
          </tr>
          <tr>
            <th scope="row">Until the end of this month</th>
            <td>{thisMonth.before}</td>
            <td>{thisMonth.after}</td>
          </tr>
        </tbody>
      </table>
      <p className={css.note}>
        Left out: people without e-mail, those who said no to such mail or switched off its topic, addresses
        put aside, and homes where a visit is on its way. The month is at most so many: what falls due in the
        same days comes along in one message.
      </p>
      {atOnceByKind.length > 0 && (
        <p>
          The next round speaks of:{' '}
          {atOnceByKind.map(({ title, followUps }) => `${title} (${followUps})`).join(', ')}.
        </p>
      )}
      <PolicySimulated simulated={simulated} />
      {confirm !== null && (
        <TextField
          label={`Type ${confirm} to say that so many people may be written to at once`}
          inputMode="numeric"
          value={typed}
          onChange={setTyped}
        />
      )}
      <div>
        <Button
          look={confirm === null ? 'main' : 'danger'}
          onPress={onSave}
          isDisabled={!isSure}
          isPending={isSaving}
        >
          Save the policy
        </Button>
      </div>
    </section>
  )
}
