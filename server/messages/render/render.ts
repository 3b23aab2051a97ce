import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { TemplateDelegate } from 'handlebars'
import type { Language } from '../../../trade/follow-ups/words.ts'
import type { MessageKind } from '../categories.ts'
import { blocksOf, type Mode } from './blocks.ts'
import type { LetterFacts } from './facts.ts'

export interface Rendered {
  subject: string
  html: string
  text: string
}

/** Templates lie with the worker, who sends them; the office shows them. */
const FOLDER = new URL('../../../worker/emails/', import.meta.url)
const read = (name: string) => readFileSync(new URL(name, FOLDER), 'utf8')

const compiled = new Map<string, TemplateDelegate>()

function template(mode: Mode, name: string): TemplateDelegate {
  const key = `${mode} ${name}`
  const known = compiled.get(key)
  if (known) return known
  // A template that asks for a fact which is not there fails here, in a test, and not in somebody's mailbox.
  const made = blocks[mode].compile(read(`${name}.hbs`), {
    noEscape: mode === 'text',
    strict: true,
    knownHelpersOnly: false,
  })
  compiled.set(key, made)
  return made
}
const blocks = { html: blocksOf('html'), text: blocksOf('text') }

export function hasTemplate(kind: MessageKind, language: Language): boolean {
  return existsSync(fileURLToPath(new URL(`${kind}.${language}.hbs`, FOLDER)))
}

/** The same letter as HTML and as plain text. @throws when a template asks for a fact that is not given */
export function render(kind: MessageKind, language: Language, facts: LetterFacts): Rendered {
  const [html, text] = (['html', 'text'] as const).map((mode) => {
    const letter = { subject: '', preview: '' }
    const root = { ...facts, letter }
    const body = template(mode, `${kind}.${language}`)(root)
    const footer = template(mode, `footer.${language}`)(root)
    const page = template(mode, `layout.${mode}`)({ ...root, language, body, footer })
    return { ...letter, page }
  })
  return {
    subject: oneLine(text!.subject),
    html: html!.page.replace(/\n{2,}/g, '\n'),
    text: `${text!.page
      .replace(/[ \t]+$/gm, '')
      .replace(/\n{3,}/g, '\n\n')
      .trim()}\n`,
  }
}

/** A name with a line break in it must not start a header of its own. */
const oneLine = (text: string) =>
  text
    .replace(/[\s\p{Cc}]+/gu, ' ')
    .trim()
    .slice(0, 200)
