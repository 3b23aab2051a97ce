import { useNavigate, useSearch } from '@tanstack/react-router'
import { useCallback } from 'react'

/** Filters of a list, kept in the address: a link to what I see is a link to what you will see. */
export function useFilters<const Name extends string>(names: readonly Name[]) {
  const search = useSearch({ strict: false }) as Record<string, string>
  const navigate = useNavigate()
  const filters = Object.fromEntries(
    names.flatMap((name) => (search[name] ? [[name, search[name]]] : [])),
  ) as Partial<Record<Name, string>>
  const put = useCallback(
    (change: Partial<Record<Name, string>>) =>
      void navigate({
        to: '.',
        search: (before: Record<string, unknown>) =>
          Object.fromEntries(
            Object.entries({ ...before, ...change }).filter(([, value]) => value !== ''),
          ) as Record<string, string>,
        replace: true,
      }),
    [navigate],
  )
  return {
    filters: filters as Partial<Record<Name, string>> & Readonly<Record<string, string>>,
    /** Several at once. */
    put,
    set: (name: Name) => (value: string) => put({ [name]: value } as Partial<Record<Name, string>>),
    clear: () => void navigate({ to: '.', search: {}, replace: true }),
  }
}
