import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useBlocker } from '@tanstack/react-router'
import { type FormEvent, useEffect, useState } from 'react'
import type { WordingView } from '../../../server/wording/schema.ts'
import { ApiProblem, http } from '../../shared/api/http.ts'
import { Button } from '../../shared/ui/button.tsx'
import { TextArea, TextField } from '../../shared/ui/fields.tsx'
import { Card } from '../../shared/ui/page.tsx'
import { Fault } from '../../shared/ui/states.tsx'
import { tell } from '../../shared/ui/toasts.tsx'
import css from './wording.module.css'
import { WordingLegend } from './wording-legend.tsx'
import { WordingPreview } from './wording-preview.tsx'
import { faultsIn, pathOf, wordingQueries, type Words } from './wording-queries.ts'
import { WordingVersions } from './wording-versions.tsx'

/** How long after the last key the letter is written anew. */
const PAUSE_MS = 500

/** The words beside the letter that they make. What is wrong is said while it is written; only what is right is saved. */
export function WordingEditor({ wording }: { wording: WordingView }) {
  const queryClient = useQueryClient()
  const [draft, setDraft] = useState<Words>(wording.words)
  const [seen, setSeen] = useState(wording.version)
  const [saved, setSaved] = useState<Words>(wording.words)
  const [note, setNote] = useState('')
  const [like, setLike] = useState('')
  const settled = useSettled(draft, PAUSE_MS)
  const shown = useQuery(wordingQueries.shown(wording, settled, like))
  const isChanged = JSON.stringify(draft) !== JSON.stringify(saved)
  const faults = faultsIn(shown.error)
  const take = (now: WordingView) => {
    setDraft(now.words)
    setSaved(now.words)
    setSeen(now.version)
    setNote('')
    queryClient.setQueryData(wordingQueries.one(wording).queryKey, now)
    void queryClient.invalidateQueries({ queryKey: wordingQueries.list().queryKey })
  }
  const save = useMutation({
    mutationFn: (version: number) => http.put<WordingView>(pathOf(wording), { ...draft, note }, { version }),
    onSuccess: (now) => {
      take(now)
      tell('Saved. Letters from now on have these words.')
    },
  })
  useBlocker({
    shouldBlockFn: () => isChanged && !window.confirm('Leave without saving the words you changed?'),
    enableBeforeUnload: () => isChanged,
  })
  const set = (part: keyof Words) => (value: string) => {
    setDraft((before) => ({ ...before, [part]: value }))
    save.reset()
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    if (isChanged) save.mutate(seen)
  }
  const meanwhile = conflictOf(save.error)
  return (
    <div className={css.letter}>
      <Card title="Words">
        <form onSubmit={submit} className={css.form}>
          <TextField label="Subject" value={draft.subject} onChange={set('subject')} fault={faults.subject} />
          <TextField
            label="First line"
            help="Shown after the subject in a list of mails."
            value={draft.preview}
            onChange={set('preview')}
            fault={faults.preview}
          />
          <div className={css.source}>
            <TextArea
              label="Text"
              help="Words stand in blocks such as {{#p}} … {{/p}}; fields such as {{to.name}} are filled in for each letter."
              rows={18}
              value={draft.body}
              onChange={set('body')}
              fault={faults.body}
            />
          </div>
          <TextField
            label="Why you change it"
            help="Stands in the list of versions."
            maxLength={300}
            value={note}
            onChange={setNote}
          />
          {meanwhile ? (
            <Meanwhile
              theirs={meanwhile}
              onTake={() => {
                take(meanwhile)
                save.reset()
              }}
              onKeep={() => save.mutate(meanwhile.version)}
              isSaving={save.isPending}
            />
          ) : (
            <Fault error={save.error} />
          )}
          <div className={css.actions}>
            <Button look="main" type="submit" isDisabled={!isChanged} isPending={save.isPending}>
              Save
            </Button>
            <Button onPress={() => setDraft(saved)} isDisabled={!isChanged}>
              Undo my changes
            </Button>
          </div>
        </form>
      </Card>
      <WordingPreview
        wording={wording}
        shown={shown}
        words={isChanged ? draft : null}
        like={like}
        onLike={setLike}
      />
      <WordingLegend wording={wording} />
      <WordingVersions wording={wording} seen={seen} isChanged={isChanged} onPutBack={take} />
    </div>
  )
}

function conflictOf(error: unknown): WordingView | null {
  const isConflict = error instanceof ApiProblem && error.type === 'changed-meanwhile'
  return isConflict ? (error.body['current'] as WordingView) : null
}

function Meanwhile({
  theirs,
  onTake,
  onKeep,
  isSaving,
}: {
  theirs: WordingView
  onTake: () => void
  onKeep: () => void
  isSaving: boolean
}) {
  return (
    <div className={css.meanwhile} role="alert">
      <p>
        {theirs.changedBy ?? 'Somebody'} saved version {theirs.version} while you were writing
        {theirs.note && ` (${theirs.note})`}. Your words are still here; choose which to keep.
      </p>
      <div className={css.actions}>
        <Button onPress={onTake}>Take theirs</Button>
        <Button look="danger" onPress={onKeep} isPending={isSaving}>
          Save mine over it
        </Button>
      </div>
    </div>
  )
}

/** A value, once it has not changed for a while. */
function useSettled<Value>(value: Value, ms: number): Value {
  const [settled, setSettled] = useState(value)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), ms)
    return () => clearTimeout(timer)
  }, [value, ms])
  return settled
}
