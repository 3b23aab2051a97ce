import { useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { urlOf } from '../../shared/api/http.ts'

/** Queries that show a record, by the table whose change the server tells of. */
const SHOWN_IN: Readonly<Record<string, readonly string[]>> = {
  visit: ['visits', 'homes', 'requests'],
  visit_request: ['requests', 'homes'],
  inspection: ['inspections', 'visits', 'homes', 'dangers'],
  customer: ['customers', 'homes'],
  property: ['homes'],
  follow_up: ['due', 'homes', 'dangers'],
  message: ['messages'],
  estimate: ['estimates', 'homes'],
}

/** What another person changes appears without a reload: the server names the record, the queries ask again. */
export function useLiveChanges(enabled: boolean): void {
  const queryClient = useQueryClient()
  useEffect(() => {
    if (!enabled) return
    const source = new EventSource(urlOf('/events'))
    source.onmessage = ({ data }) => {
      const { record } = JSON.parse(data as string) as { record: string }
      for (const name of SHOWN_IN[record] ?? []) void queryClient.invalidateQueries({ queryKey: [name] })
    }
    return () => source.close()
  }, [enabled, queryClient])
}
