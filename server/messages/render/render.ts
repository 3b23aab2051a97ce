import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import Handlebars, { type TemplateDelegate } from 'handlebars'
import type { Language } from '../../../trade/day-in-words.ts'
import type { MessageKind } from '../categories.ts'
import { blocksOf, type Mode } from './blocks.ts'
import type { LetterFacts } from './facts.ts'

export interface Rendered {
  subject: string
  html: string
  text: string
}
/** The words of a letter, ready for both of its texts. */
export type Template = Readonly<Record<Mode, TemplateDelegate>>

/** Templates lie with the worker, who sends them; the office shows them. */
const FOLDER = new URL('../../../worker/emails/', import.meta.url)
const read = (name: string) => readFileSync(new URL(`${name}.hbs`, FOLDER), 'utf8')
const exists = (name: string) => existsSync(fileURLToPath(new URL(`${name}.hbs`, FOLDER)))
const MODES = ['html', 'text'] as const
const blocks = { html: blocksOf('html'), text: blocksOf('text') }

// Templates that came with the program do not change while it runs.
const compiled = new Map<string, TemplateDelegate>()

function fileTemplate(mode: Mode, name: string): TemplateDelegate {
  const key = `${mode} ${name}`
  const known = compiled.get(key)
  if (known) return known
  const made = name.startsWith('layout') ? compilePage(mode, read(name)) : compileWords(mode, read(name))
  compiled.set(key, made)
  return made
}

// A template that asks for a fact which is not there fails here, in a test, and not in somebody's mailbox.
const compilePage = (mode: Mode, source: string | hbs.AST.Program) =>
  blocks[mode].compile(source, { noEscape: mode === 'text', strict: true, knownHelpersOnly: false })

/** Words are words in HTML, too: an & or a < among them is shown as such. */
function compileWords(mode: Mode, source: string): TemplateDelegate {
  const program = Handlebars.parse(source)
  if (mode === 'html') new Escaping().accept(program)
  return compilePage(mode, program)
}

class Escaping extends Handlebars.Visitor {
  override ContentStatement(content: hbs.AST.ContentStatement): void {
    content.value = Handlebars.escapeExpression(content.value)
  }
}

/** @throws when the source cannot be read */
export function compile(source: string): Template {
  return { html: compileWords('html', source), text: compileWords('text', source) }
}

export function hasTemplate(kind: MessageKind, language: Language): boolean {
  return exists(`${kind}.${language}`)
}

/** The wording that came with the program. */
export function builtInSource(kind: MessageKind, language: Language): string {
  return read(`${kind}.${language}`)
}

/**
 * The same letter as HTML and as plain text. Head and foot are not part of any wording, so that none can lose them.
 * @param more.template other words than those that came with the program
 * @param more.notice stands above the letter: it is a test, say
 * @throws when a template asks for a fact that is not given
 */
export function render(
  kind: MessageKind,
  language: Language,
  facts: LetterFacts,
  { template, notice = '' }: { template?: Template | null; notice?: string } = {},
): Rendered {
  const [html, text] = MODES.map((mode) => {
    const letter = { subject: '', preview: '' }
    const caution = () => {
      const words = fileTemplate(mode, `caution.${kind}.${language}`)({ ...facts, letter })
      return new Handlebars.SafeString(words)
    }
    const root = { ...facts, letter }
    const words = template?.[mode] ?? fileTemplate(mode, `${kind}.${language}`)
    const body = words(root, { helpers: { caution } })
    const footer = fileTemplate(mode, `footer.${language}`)(root)
    const page = fileTemplate(mode, `layout.${mode}`)({ ...root, language, notice, body, footer })
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
