import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { WordingSummary } from '../../../server/wording/schema.ts'
import { formatInstant } from '../../shared/format.ts'
import { LANGUAGES } from '../../shared/languages.ts'
import { buttonLink } from '../../shared/ui/button.tsx'
import { Page, Tag } from '../../shared/ui/page.tsx'
import { Failed, Waiting } from '../../shared/ui/states.tsx'
import { Table } from '../../shared/ui/table.tsx'
import { KINDS } from '../messages/words.tsx'
import css from './wording.module.css'
import { wordingQueries } from './wording-queries.ts'

/** Every letter that goes out, in each language, and whose words it has. */
export function Wordings() {
  const list = useQuery(wordingQueries.list())
  const kinds = [...new Set(list.data?.map(({ kind }) => kind))]
  const cell = (kind: string, language: string) => (
    <LetterCell letter={list.data!.find((each) => each.kind === kind && each.language === language)!} />
  )
  return (
    <Page
      title="Wording of letters"
      under="Every letter that goes out, in both languages. Head, foot and the way out of reminders stay as they are."
      actions={
        <Link to="/settings" className={buttonLink}>
          Back to settings
        </Link>
      }
    >
      {list.isPending && <Waiting />}
      {list.isError && <Failed error={list.error} retry={() => void list.refetch()} />}
      {list.data && (
        <Table
          caption="Letters"
          rows={kinds}
          rowKey={(kind) => kind}
          columns={[
            { name: 'Letter', cell: (kind) => KINDS[kind] },
            { name: 'About', cell: (kind) => list.data.find((each) => each.kind === kind)!.categoryTitle },
            { name: LANGUAGES.en, cell: (kind) => cell(kind, 'en') },
            { name: LANGUAGES.es, cell: (kind) => cell(kind, 'es') },
          ]}
        />
      )}
    </Page>
  )
}

function LetterCell({ letter }: { letter: WordingSummary }) {
  const { kind, language, isOwn, changedAt, changedBy, fallbacks } = letter
  const words = isOwn ? 'Your own words' : 'As it came'
  return (
    <div className={css.cell}>
      <Link
        to="/settings/wording/$kind/$language"
        params={{ kind, language }}
        aria-label={`${KINDS[kind]}, ${LANGUAGES[language]}: ${words}`}
      >
        {words}
      </Link>
      {isOwn && changedAt && (
        <span className={css.since}>
          {formatInstant(changedAt)}
          {changedBy && `, ${changedBy}`}
        </span>
      )}
      {fallbacks > 0 && <Tag tone="bad">{fallbacks} could not be written with it</Tag>}
    </div>
  )
}
