import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { MessagesPreview } from '../../../server/follow-ups/schema.ts'
import { dueQueries } from '../../shared/api/due.ts'
import { http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions } from '../../shared/ui/dialog.tsx'
import { CheckField } from '../../shared/ui/fields.tsx'
import { Failed, Waiting } from '../../shared/ui/states.tsx'

const letters = (count: number) => (count === 1 ? 'one letter' : `${count} letters`)

/** Before many are written to by hand: how many letters, and who would rather have none now. Those are a second choice. */
export function WriteNow({
  ids,
  isPending,
  onWrite,
}: {
  ids: readonly string[]
  isPending: boolean
  onWrite: (all: boolean) => void
}) {
  const [all, setAll] = useState(false)
  const preview = useQuery({
    queryKey: [...dueQueries.all(), 'messages-preview', ids],
    queryFn: () => http.post<MessagesPreview>('/follow-ups/messages-preview', { ids }),
    gcTime: 0,
  })
  if (preview.isPending) return <Waiting />
  if (preview.isError) return <Failed error={preview.error} retry={() => void preview.refetch()} />
  const { held, refused, unreachable, lettersToAll } = preview.data
  const count = all ? lettersToAll : preview.data.letters
  return (
    <>
      <p role="status">
        {count === 0 ? 'No letter goes out.' : `Now ${letters(count)} would go out, one per household.`}
      </p>
      {held.length > 0 && (
        <>
          <p>Of those chosen:</p>
          <ul>
            {held.map(({ why, followUps }) => (
              <li key={why}>
                {why}: {followUps}
              </li>
            ))}
          </ul>
          <CheckField
            label="Write to these all the same"
            help="Left unticked, they are left out."
            checked={all}
            onChange={setAll}
          />
        </>
      )}
      {refused > 0 && <p>{refused}: they want no such mail, and are never written to. They end here.</p>}
      {unreachable > 0 && <p>{unreachable}: there is no address to write to. Phone them.</p>}
      <Actions>
        <Button
          look={all ? 'danger' : 'main'}
          isDisabled={count === 0}
          isPending={isPending}
          onPress={() => onWrite(all)}
        >
          {count === 1 ? 'Send one letter' : `Send ${count} letters`}
        </Button>
      </Actions>
    </>
  )
}
