import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { BulkResult } from '../../../server/follow-ups/schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextField } from '../../shared/ui/fields.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './due.module.css'

/** What can be done with several at once; what was left alone, and why, is said. */
export function BulkActs({ ids, onDone }: { ids: readonly string[]; onDone: () => void }) {
  const queryClient = useQueryClient()
  const [reason, setReason] = useState('')
  const act = useMutation({
    mutationFn: (body: { action: 'message' | 'dismiss'; reason?: string }) =>
      http.post<BulkResult>('/follow-ups/bulk', { ids, ...body }),
    onSuccess: (result, { action }) => {
      void queryClient.invalidateQueries({ queryKey: dueQueries.all() })
      const left = result.left.length > 0 ? ` ${result.left.length} left alone: ${result.left[0]!.why}` : ''
      tell(
        action === 'message'
          ? `${result.messages} letters are on their way.${left}`
          : `${result.done} dismissed.${left}`,
      )
      onDone()
    },
  })
  return (
    <div className={css.bulk} role="region" aria-label="With those chosen">
      <strong>{ids.length} chosen</strong>
      <Button look="main" onPress={() => act.mutate({ action: 'message' })} isPending={act.isPending}>
        Write to them now
      </Button>
      <TextField label="Reason for dismissing" value={reason} onChange={setReason} maxLength={500} />
      <Button onPress={() => act.mutate({ action: 'dismiss', reason })} isDisabled={!reason.trim()}>
        Dismiss
      </Button>
      <Button look="quiet" onPress={onDone}>
        Choose none
      </Button>
      <Fault error={act.error} />
    </div>
  )
}
