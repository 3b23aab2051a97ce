import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { type FormEvent, useState } from 'react'
import type { PolicyView, PreviewView } from '../../../server/follow-up-policy/schema.ts'
import type { Policy, PolicyChanges } from '../../../trade/follow-ups/policy.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { CheckField, TextField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './follow-up-policy.module.css'
import { changesOf, formOf, isYesNo, NOTICES, POLICY_GROUPS, type PolicyForm } from './policy-fields.ts'
import { PolicyEffect } from './policy-effect.tsx'

const policyQuery = {
  queryKey: ['follow-up-policy'] as const,
  queryFn: () => http.get<PolicyView>('/follow-up-policy'),
}

/** When reminders go out, how often, and for what: shown what a change would do before it is saved. */
export function FollowUpPolicy() {
  const policy = useQuery(policyQuery)
  return (
    <Card title="Follow-ups">
      {policy.isPending && <Waiting />}
      {policy.isError && <Failed error={policy.error} retry={() => void policy.refetch()} />}
      {policy.data && <PolicyFields key={policy.data.version} view={policy.data} />}
    </Card>
  )
}

function PolicyFields({ view }: { view: PolicyView }) {
  const queryClient = useQueryClient()
  const policy = view.policy as unknown as Policy
  const [form, setForm] = useState<PolicyForm>(() => formOf(policy))
  const { changes, faults } = changesOf(form, policy, view.changes as PolicyChanges)
  const isChanged = JSON.stringify(changes) !== JSON.stringify(view.changes)
  const preview = useMutation({
    mutationFn: () => http.post<PreviewView>('/follow-up-policy/preview', { changes }),
  })
  const save = useMutation({
    mutationFn: (confirm: number | null) =>
      http.put<PolicyView>(
        '/follow-up-policy',
        { changes, ...(confirm !== null && { confirmMessages: confirm }) },
        { version: view.version },
      ),
    onSuccess: async () => {
      await queryClient.invalidateQueries({ queryKey: policyQuery.queryKey })
      await queryClient.invalidateQueries({ queryKey: ['company'] })
      tell('The policy is saved.')
    },
  })
  const set = (path: string) => (value: string) => {
    setForm((before) => ({ ...before, [path]: value }))
    preview.reset()
    save.reset()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    if (isChanged && Object.keys(faults).length === 0) preview.mutate()
  }
  return (
    <form onSubmit={submit} className={css.form}>
      {POLICY_GROUPS.map(({ title, fields }) => (
        <fieldset key={title} className={css.group}>
          <legend>{title}</legend>
          {fields.map(([path, label, help]) =>
            isYesNo(form[path]!) ? (
              <CheckField
                key={path}
                label={label}
                {...(help && { help })}
                checked={form[path] === 'true'}
                onChange={(is) => set(path)(String(is))}
              />
            ) : (
              <TextField
                key={path}
                label={label}
                help={help}
                type={path.startsWith('sendingHours') ? 'time' : 'text'}
                inputMode="numeric"
                value={form[path]!}
                onChange={set(path)}
                fault={faults[path]}
              />
            ),
          )}
        </fieldset>
      ))}
      <details>
        <summary>Notices of each kind</summary>
        <div className={css.notices}>
          <p>
            Days before (−) or after the due date, each with how: mail, call or letter. For example “-30 mail,
            0 mail, 14 call, then every 12 months mail”; what repeats counts from the due date.
          </p>
          {NOTICES.map(({ id, label, help }) => (
            <TextField
              key={id}
              label={label}
              help={help}
              value={form[`cadences.${id}`]!}
              onChange={set(`cadences.${id}`)}
              fault={faults[`cadences.${id}`]}
            />
          ))}
        </div>
      </details>
      <Fault error={preview.error ?? save.error} />
      {preview.data && (
        <PolicyEffect
          effect={preview.data}
          isSaving={save.isPending}
          onSave={() => save.mutate(preview.data.confirm)}
        />
      )}
      {!preview.data && (
        <div>
          <Button look="main" type="submit" isDisabled={!isChanged} isPending={preview.isPending}>
            Show what would change
          </Button>
        </div>
      )}
      {view.history.length > 0 && (
        <details>
          <summary>Who changed it, and when</summary>
          <ul>
            {view.history.map((each) => (
              <li key={each.at}>
                {formatInstant(each.at)}, {each.by ?? 'unknown'}
              </li>
            ))}
          </ul>
        </details>
      )}
    </form>
  )
}
