import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import type { PreferenceChoice, PreferencesView } from '../../../server/preferences/schema.ts'
import { customerQueries } from '../../shared/api/homes.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { CheckField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './customer-preferences.module.css'

/** What they want to be written about, as on their own page: what is said on the phone is written down here, at once. */
export function CustomerPreferences({ customerId }: { customerId: string }) {
  const queryClient = useQueryClient()
  const path = `/customers/${customerId}/preferences`
  const queryKey = [...customerQueries.all(), 'preferences', customerId]
  const preferences = useQuery({ queryKey, queryFn: () => http.get<PreferencesView>(path) })
  const change = useMutation({
    mutationFn: (wishes: Record<string, boolean>) => http.put<PreferencesView>(path, { wishes }),
    onSuccess: (view) => {
      queryClient.setQueryData(queryKey, view)
      tell('Their choice is saved.')
    },
  })
  const field = (choice: PreferenceChoice, isMoot = false) => (
    <CheckField
      key={choice.category}
      label={choice.title}
      {...(choice.said && { help: saidInWords(choice.said) })}
      checked={choice.allowed}
      disabled={isMoot || change.isPending}
      onChange={(allowed) => change.mutate({ [choice.category]: allowed })}
    />
  )
  return (
    <Card title="What they want to be written about">
      {preferences.isPending && <Waiting />}
      {preferences.isError && <Failed error={preferences.error} retry={() => void preferences.refetch()} />}
      {preferences.data && (
        <>
          <p>
            Bookings, reports and warnings of a hazard always reach them. Each tick is saved at once; where
            nothing stands beside it, nobody has said anything, and it is as for everyone.
          </p>
          {field(preferences.data.reminder)}
          <fieldset className={css.topics}>
            <legend>What the reminders may be about</legend>
            {preferences.data.topics.map((topic) => field(topic, !preferences.data.reminder.allowed))}
          </fieldset>
          {field(preferences.data.tips)}
          <Fault error={change.error} />
        </>
      )}
    </Card>
  )
}

function saidInWords(said: NonNullable<PreferenceChoice['said']>): string {
  const where = {
    unsubscribe: 'By the way out in a letter',
    'preferences-page': 'On their page',
    office: `Said to ${said.by ?? 'the office'}`,
  }
  return `${where[said.source]}, ${formatInstant(said.at)}`
}
