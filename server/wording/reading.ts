import Handlebars from 'handlebars'

/** Why a template cannot even be read: on which line, and what to do. */
export class Unreadable extends Error {
  readonly line: number
  constructor(line: number, message: string) {
    super(message)
    this.line = line
  }
}

/** @throws Unreadable */
export function read(template: string): hbs.AST.Program {
  try {
    return Handlebars.parse(template)
  } catch (error) {
    throw unbalanced(template) ?? unreadable(template, error as Error)
  }
}

/** What opens and closes, in order. */
const TAG = /\{\{\{?\{?~?\s*([#^/])\s*([\w./@-]*)/g

/** The block that is not closed, or the end that closes none. The parser itself names the end of the text. */
function unbalanced(template: string): Unreadable | null {
  const open: { name: string; line: number }[] = []
  for (const tag of template.matchAll(TAG)) {
    const [, sign, name] = tag as unknown as [string, string, string]
    const line = lineAt(template, tag.index)
    if (sign === '#' || (sign === '^' && name !== '')) open.push({ name, line })
    if (sign !== '/') continue
    const last = open.pop()
    if (!last)
      return new Unreadable(line, `{{/${name}}} closes nothing; take it out, or open {{#${name}}} before it.`)
    if (last.name !== name) {
      const where = last.line === line ? '' : ` of line ${last.line}`
      return new Unreadable(
        line,
        `{{#${last.name}}}${where} is closed by {{/${name}}}; close it with {{/${last.name}}}.`,
      )
    }
  }
  const last = open.pop()
  return last
    ? new Unreadable(last.line, `{{#${last.name}}} is not closed; write {{/${last.name}}} where it ends.`)
    : null
}

function unreadable(template: string, { message }: Error): Unreadable {
  const [, at] = /on line (\d+)/.exec(message) ?? / - (\d+):\d+$/.exec(message) ?? []
  const line = Number(at ?? 1)
  const words = (template.split('\n')[line - 1] ?? '').trim().slice(0, 60)
  return new Unreadable(
    line,
    `“${words}” cannot be read: look for a brace too many or too few, or an {{else}} outside of {{#if}}.`,
  )
}

export const lineAt = (text: string, index: number) => text.slice(0, index).split('\n').length
