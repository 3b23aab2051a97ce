import { useMutation, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { WordingView } from '../../../server/wording/schema.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { Actions, Dialog } from '../../shared/ui/dialog.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Failed, Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './wording.module.css'
import { pathOf, wordingQueries } from './wording-queries.ts'

/** Every version there was: who, when and why; each can be looked at and put back. */
export function WordingVersions({
  wording,
  seen,
  isChanged,
  onPutBack,
}: {
  wording: WordingView
  seen: number
  isChanged: boolean
  onPutBack: (now: WordingView) => void
}) {
  const [looking, setLooking] = useState<number | null>(null)
  return (
    <Card title="Versions">
      <ol className={css.versions}>
        {wording.versions.map(({ version, at, by, note, isOwn }) => (
          <li key={version}>
            <div>
              <strong>{version === 0 ? 'As it came' : `Version ${version}`}</strong>
              {version === wording.version && ' (holds now)'}
              <div className={css.since}>
                {[at && formatInstant(at), by, note, version > 0 && !isOwn && note === '' && 'as it came']
                  .filter(Boolean)
                  .join(', ')}
              </div>
            </div>
            <Button
              small
              aria-label={`Look at it: ${version === 0 ? 'as it came' : `version ${version}`}`}
              onPress={() => setLooking(version)}
            >
              Look at it
            </Button>
          </li>
        ))}
      </ol>
      {looking !== null && (
        <Earlier
          wording={wording}
          version={looking}
          seen={seen}
          isChanged={isChanged}
          onClose={() => setLooking(null)}
          onPutBack={onPutBack}
        />
      )}
    </Card>
  )
}

function Earlier({
  wording,
  version,
  seen,
  isChanged,
  onClose,
  onPutBack,
}: {
  wording: WordingView
  version: number
  seen: number
  isChanged: boolean
  onClose: () => void
  onPutBack: (now: WordingView) => void
}) {
  const earlier = useQuery(wordingQueries.version(wording, version))
  const putBack = useMutation({
    mutationFn: () => http.post<WordingView>(`${pathOf(wording)}/revert`, { to: version }, { version: seen }),
    onSuccess: (now) => {
      onPutBack(now)
      onClose()
      tell(
        version === 0
          ? 'It is back to how it came.'
          : `Version ${version} is back, as version ${now.version}.`,
      )
    },
  })
  return (
    <Dialog
      title={version === 0 ? 'As it came with the program' : `Version ${version}`}
      isOpen
      onClose={onClose}
      wide
    >
      {earlier.isPending && <Waiting />}
      {earlier.isError && <Failed error={earlier.error} retry={() => void earlier.refetch()} />}
      {earlier.data && (
        <dl className={css.earlier}>
          <dt>Subject</dt>
          <dd>{earlier.data.words.subject}</dd>
          <dt>First line</dt>
          <dd>{earlier.data.words.preview}</dd>
          <dt>Text</dt>
          <dd>
            <pre className={css.text}>{earlier.data.words.body}</pre>
          </dd>
        </dl>
      )}
      {isChanged && <p>What you changed and did not save is lost when you put this back.</p>}
      <Fault error={putBack.error} />
      <Actions>
        <Button
          look="main"
          onPress={() => putBack.mutate()}
          isPending={putBack.isPending}
          isDisabled={version === wording.version}
        >
          Put it back
        </Button>
      </Actions>
    </Dialog>
  )
}
