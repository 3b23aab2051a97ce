import { useMutation, useQuery, type UseQueryResult } from '@tanstack/react-query'
import { useState } from 'react'
import type { ShownLetter, TestView, WordingView } from '../../../server/wording/schema.ts'
import { http } from '../../shared/api/http.ts'
import { formatInstant } from '../../shared/format.ts'
import { Button } from '../../shared/ui/button.tsx'
import { SelectField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Fault, Waiting } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './wording.module.css'
import { faultsIn, pathOf, wordingQueries, type Words } from './wording-queries.ts'

/** The letter as it would be sent, with made-up data or with those of a stored one; and a test of it. */
export function WordingPreview({
  wording,
  shown,
  words,
  like,
  onLike,
}: {
  wording: WordingView
  shown: UseQueryResult<ShownLetter>
  /** What is not saved yet; null: nothing. */
  words: Words | null
  like: string
  onLike: (like: string) => void
}) {
  const [asText, setAsText] = useState(false)
  const stored = useQuery(wordingQueries.stored(wording.kind))
  const real = stored.data?.items.filter(({ customerId }) => customerId) ?? []
  const test = useMutation({
    mutationFn: () => http.post<TestView>(`${pathOf(wording)}/test`, { words, like: like || null }),
    onSuccess: ({ to }) => tell(`A test is on its way to ${to}.`),
  })
  const isRefused = Object.keys(faultsIn(shown.error)).length > 0
  return (
    <Card
      title="How it looks"
      actions={
        <div className={css.actions}>
          <Button small onPress={() => setAsText(!asText)}>
            {asText ? 'As it looks' : 'Plain text'}
          </Button>
          <Button small onPress={() => test.mutate()} isPending={test.isPending} isDisabled={!shown.data}>
            Send me a test
          </Button>
        </div>
      }
    >
      {real.length > 0 && (
        <SelectField
          label="With data of"
          value={like}
          onChange={onLike}
          empty="A made-up home"
          options={real.map((each): [string, string] => [
            each.id,
            [each.toName, each.propertyLine, formatInstant(each.createdAt)].filter(Boolean).join(', '),
          ])}
        />
      )}
      <Fault error={test.error} />
      {shown.isPending && <Waiting what="Writing the letter" />}
      {isRefused && <p>It cannot be written like this: see what is marked beside the words.</p>}
      {shown.error && !isRefused && <Fault error={shown.error} />}
      {shown.data && (
        <>
          <p className={css.subject}>
            <span>Subject</span> {shown.data.subject}
          </p>
          {asText ? (
            <pre
              className={css.text}
              lang={wording.language}
              tabIndex={0}
              aria-label="The letter as plain text"
            >
              {shown.data.text}
            </pre>
          ) : (
            <iframe className={css.html} title="The letter" sandbox="" srcDoc={shown.data.html} />
          )}
        </>
      )}
    </Card>
  )
}
