import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useNavigate } from '@tanstack/react-router'
import { useState } from 'react'
import type { EstimateView } from '../../../server/estimates/schema.ts'
import { estimateQueries } from '../../shared/api/estimates.ts'
import { http } from '../../shared/api/http.ts'
import { newId } from '../../shared/ids.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Fault } from '../../shared/ui/states.tsx'

/** Begins an estimate from what was found, and goes there. */
export function NewEstimate({
  of,
  words,
  label,
  small = false,
}: {
  of: { propertyId: string; inspectionId?: string; findingIds?: readonly string[] }
  words: string
  /** What a screen reader says, where the words alone do not tell which one. */
  label?: string
  small?: boolean
}) {
  const queryClient = useQueryClient()
  const navigate = useNavigate()
  const [id] = useState(() => newId())
  const begin = useMutation({
    mutationFn: () => http.post<EstimateView>('/estimates', { id, ...of }),
    onSuccess: (estimate) => {
      queryClient.setQueryData(estimateQueries.one(estimate.id).queryKey, estimate)
      void queryClient.invalidateQueries({ queryKey: ['homes'] })
      void navigate({ to: '/estimates/$id', params: { id: estimate.id } })
    },
  })
  return (
    <>
      <Button
        small={small}
        onPress={() => begin.mutate()}
        isPending={begin.isPending}
        {...(label && { 'aria-label': label })}
      >
        {words}
      </Button>
      <Fault error={begin.error} />
    </>
  )
}
