import type { WordingView } from '../../../server/wording/schema.ts'
import { Card } from '../../shared/ui/page.tsx'
import css from './wording.module.css'

/** What may stand in the letter: its fields, each with an example, and its blocks. Nothing else is taken. */
export function WordingLegend({ wording }: { wording: WordingView }) {
  return (
    <Card title="What it may tell">
      <dl className={css.legend}>
        {wording.fields.map(({ name, is, about, mayBeEmpty, example, within }) => (
          <div key={`${within} ${name}`}>
            <dt>
              <code>{writtenAs(is, name)}</code>
              {within && <span className={css.since}> in each of {within}</span>}
            </dt>
            <dd>
              {about}
              {mayBeEmpty && '; may be empty'}
              {is === 'words' && example !== '' && <span className={css.example}>{example}</span>}
            </dd>
          </div>
        ))}
      </dl>
      <details className={css.blocks}>
        <summary>Blocks</summary>
        <dl className={css.legend}>
          {wording.blocks.map(({ name, about, example }) => (
            <div key={name}>
              <dt>
                <code>{example}</code>
              </dt>
              <dd>{about}</dd>
            </div>
          ))}
        </dl>
      </details>
    </Card>
  )
}

/** As it stands in the text: what it is says how. */
function writtenAs(is: WordingView['fields'][number]['is'], name: string): string {
  if (is === 'page') return `{{#button ${name}}}`
  if (is === 'yes-no') return `{{#if ${name}}}`
  return is === 'list' ? `{{#each ${name}}}` : `{{${name}}}`
}
