import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import type { WordingView } from '../../../server/wording/schema.ts'
import { formatInstant } from '../../shared/format.ts'
import { LANGUAGES } from '../../shared/languages.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { Page } from '../../shared/ui/page.tsx'
import { Failed, Waiting } from '../../shared/ui/states.tsx'
import { KINDS } from '../messages/words.tsx'
import { WordingEditor } from './wording-editor.tsx'
import { type LetterName, wordingQueries } from './wording-queries.ts'

/** One letter in one language: its words, how they look, and how they came to be. */
export function Wording() {
  const letter = useParams({ strict: false }) as LetterName
  const wording = useQuery(wordingQueries.one(letter))
  if (wording.isPending) return <Waiting />
  if (wording.isError) return <Failed error={wording.error} retry={() => void wording.refetch()} />
  const { kind, language } = letter
  const other = language === 'en' ? 'es' : 'en'
  return (
    <Page
      title={`${KINDS[kind]}, ${LANGUAGES[language]}`}
      under={stateOf(wording.data)}
      actions={
        <>
          <Link
            to="/settings/wording/$kind/$language"
            params={{ kind, language: other }}
            className={buttonLink}
          >
            {`The same in ${LANGUAGES[other]}`}
          </Link>
          <Link to="/settings/wording" className={buttonLink}>
            All letters
          </Link>
        </>
      }
    >
      <WordingEditor key={`${kind} ${language}`} wording={wording.data} />
    </Page>
  )
}

function stateOf({ version, isOwn, changedAt, changedBy, note }: WordingView): string {
  if (!changedAt) return 'As it came with the program'
  const words = isOwn
    ? `Your own words, version ${version}`
    : `As it came with the program, since version ${version}`
  return `${words}: ${[formatInstant(changedAt), changedBy, note].filter(Boolean).join(', ')}`
}
