import { Button } from '../../shared/ui/button.tsx'
import { type Outcome, OUTCOMES } from './call-keys.ts'
import css from './due.module.css'

/** One button and one key for each thing that can come of a call. */
export function CallOutcomes({
  areKeysOn,
  isPending,
  onOutcome,
}: {
  areKeysOn: boolean
  isPending: boolean
  onOutcome: (outcome: Outcome) => void
}) {
  return (
    <div className={css.acts} role="group" aria-label="What came of the call">
      {(Object.keys(OUTCOMES) as Outcome[]).map((outcome) => {
        const { key, words } = OUTCOMES[outcome]
        return (
          <Button
            key={outcome}
            small
            look={outcome === 'booked' ? 'main' : 'plain'}
            isDisabled={isPending}
            aria-keyshortcuts={areKeysOn ? key.toUpperCase() : undefined}
            onPress={() => onOutcome(outcome)}
          >
            {areKeysOn && <kbd aria-hidden="true">{key}</kbd>} {words}
          </Button>
        )
      })}
    </div>
  )
}
