import type { MessageKind } from '../messages/categories.ts'
import { KINDS_WITH_CAUTION, KNOWN_BLOCKS, type KnownBlock, type Place } from './known-blocks.ts'
import { KNOWN_FIELDS, type KnownField, type KnownFields } from './known-fields.ts'
import { PART_NAMES, type PartName, type WordingParts } from './parts.ts'
import { lineAt, read, Unreadable } from './reading.ts'

/** One thing that is wrong with a wording: in which part, on which line of it, and what to do. */
export interface WordingFault {
  pointer: `#/${PartName}`
  line: number
  detail: string
}
type Tell = (line: number, detail: string) => void
interface Where {
  place: Place
  fields: KnownFields
  tell: Tell
}

const LONGEST: Record<PartName, number> = { subject: 400, preview: 400, body: 30_000 }

/** Everything that is wrong with the words themselves, before they are tried with facts. */
export function faultsOf(kind: MessageKind, parts: WordingParts): WordingFault[] {
  const faults: WordingFault[] = []
  for (const name of PART_NAMES) {
    const tell: Tell = (line, detail) =>
      faults.push({ pointer: `#/${name}`, line, detail: `Line ${line}: ${detail}` })
    checkPart(kind, name, parts[name], tell)
  }
  return faults
}

function checkPart(kind: MessageKind, name: PartName, text: string, tell: Tell): void {
  if (text.trim() === '') return tell(1, 'there are no words here; write some.')
  if (text.length > LONGEST[name]) {
    return tell(1, `it has ${text.length} letters; ${LONGEST[name]} are the most. Shorten it.`)
  }
  try {
    const place = name === 'body' ? 'text' : 'header'
    const program = read(text)
    const hasCaution = name === 'body' && KINDS_WITH_CAUTION.includes(kind)
    checkAll(withoutCaution(text, program, hasCaution, tell), { place, fields: KNOWN_FIELDS[kind], tell })
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error
    tell(error.line, error.message)
  }
}

/** The caution stands by itself, once, under no condition. */
function withoutCaution(
  text: string,
  program: hbs.AST.Program,
  isNeeded: boolean,
  tell: Tell,
): hbs.AST.Statement[] {
  const cautions = program.body.filter((node) => isNeeded && pathOf(node) === 'caution' && isPlain(node))
  // Where it stands inside of something, that is told by itself.
  if (isNeeded && !text.includes('{{caution}}')) {
    tell(lastLine(program), 'the words of caution are missing; write {{caution}} on a line of its own.')
  }
  if (cautions.length > 1)
    tell(cautions[1]!.loc.start.line, '{{caution}} stands here a second time; keep one.')
  return program.body.filter((node) => !cautions.includes(node))
}

function checkAll(nodes: readonly hbs.AST.Statement[], where: Where): void {
  for (const node of nodes) {
    if (node.type === 'ContentStatement')
      checkWords(String((node as hbs.AST.ContentStatement).original), node, where)
    else if (node.type === 'MustacheStatement') checkField(node as hbs.AST.MustacheStatement, where)
    else if (node.type === 'BlockStatement') checkBlock(node as hbs.AST.BlockStatement, where)
    else if (node.type !== 'CommentStatement') {
      where.tell(node.loc.start.line, 'parts of other letters cannot be taken in; write the words here.')
    }
  }
}

function checkWords(words: string, node: hbs.AST.Statement, { place, tell }: Where): void {
  const line = (index: number) => node.loc.start.line + lineAt(words, index) - 1
  const first = words.search(/\S/)
  if (first < 0) return
  if (place === 'text' || place === 'lines') {
    const block = place === 'text' ? 'p' : 'item'
    const shown = words.trim().split('\n')[0]!.slice(0, 40)
    return tell(
      line(first),
      `“${shown}” stands outside of a block; put it between {{#${block}}} and {{/${block}}}.`,
    )
  }
  const tag = /<\s*[a-z/!?][^>\s]*>?/i.exec(words)
  if (tag)
    tell(
      line(tag.index),
      `“${tag[0]}” is HTML, which is not taken; use {{#strong}}, {{#link}} or another block.`,
    )
  const braces = words.indexOf('{{')
  if (braces >= 0)
    tell(line(braces), 'braces that are only shown are not taken; write the field without a backslash.')
}

function checkField(node: hbs.AST.MustacheStatement, where: Where): void {
  const { tell } = where
  const { line } = node.loc.start
  const name = pathOf(node)
  if (!node.escaped)
    return tell(line, `three braces or {{&…}} let anything through; write {{${name ?? '…'}}}.`)
  if (node.params.length > 0 || node.hash?.pairs.length) {
    return tell(
      line,
      `“${name}” is not something that can be worked out here; known are fields and blocks of the list.`,
    )
  }
  if (name === 'caution')
    return tell(line, '{{caution}} stands on a line of its own, outside of every block, or not at all.')
  if (name !== null && Object.hasOwn(KNOWN_BLOCKS, name)) {
    return tell(line, `“${name}” is a block; write {{#${name}}} … {{/${name}}}.`)
  }
  const field = known(node.path as hbs.AST.PathExpression, where)
  if (!field) return
  if (where.place === 'text' || where.place === 'lines') {
    const block = where.place === 'text' ? 'p' : 'item'
    return tell(
      line,
      `{{${name}}} stands outside of a block; put it between {{#${block}}} and {{/${block}}}.`,
    )
  }
  if (field.is === 'page')
    tell(line, `the address of a page is put into a button or link: {{#link ${name}}}words{{/link}}.`)
  if (field.is === 'yes-no') tell(line, `“${name}” is yes or no; ask for it: {{#if ${name}}} … {{/if}}.`)
  if (field.is === 'list') tell(line, `“${name}” is a list; go through it: {{#each ${name}}} … {{/each}}.`)
}

function checkBlock(node: hbs.AST.BlockStatement, where: Where): void {
  const { tell, place } = where
  const { line } = node.loc.start
  const name = node.path.original
  const block = Object.hasOwn(KNOWN_BLOCKS, name) ? KNOWN_BLOCKS[name]! : null
  if (!block) {
    const isField = Object.hasOwn(where.fields, name)
    const advice = isField
      ? `write {{#if ${name}}} … {{/if}}`
      : `known are ${Object.keys(KNOWN_BLOCKS).join(', ')}`
    return tell(line, `there is no block “${name}”; ${advice}.`)
  }
  if (!block.in.includes(place)) return tell(line, misplaced(name, block, place))
  if (node.hash?.pairs.length || node.program?.blockParams?.length) {
    return tell(line, `{{#${name}}} takes no names of its own; write it like ${block.example}.`)
  }
  if (node.inverse && !['condition', 'list'].includes(block.takes)) {
    return tell(line, `{{else}} belongs into {{#if}}, not into {{#${name}}}.`)
  }
  const inner = fieldsWithin(name, block, node, where)
  if (!inner) return
  const within = block.holds === 'same' ? place : block.holds
  if (node.program) checkAll(node.program.body, { ...where, place: within, fields: inner })
  if (node.inverse) checkAll(node.inverse.body, { ...where, place: within })
}

/** Checks what a block is given. @returns the fields that are known inside it; null when it was given the wrong thing */
function fieldsWithin(
  name: string,
  block: KnownBlock,
  node: hbs.AST.BlockStatement,
  where: Where,
): KnownFields | null {
  const { line } = node.loc.start
  const wrong = (what: string) => {
    where.tell(line, `{{#${name}}} ${what}; write it like ${block.example}.`)
    return null
  }
  const [given, ...more] = node.params
  if (block.takes === 'nothing') return given ? wrong('takes nothing but its words') : where.fields
  if (!given || more.length > 0) return wrong('takes one thing')
  if (block.takes === 'label') {
    return given.type === 'StringLiteral' ? where.fields : wrong('takes its name in quotation marks')
  }
  if (given.type !== 'PathExpression') return wrong('takes a field of the list')
  const field = known(given as hbs.AST.PathExpression, where)
  if (!field) return null
  if (block.takes === 'page') return field.is === 'page' ? where.fields : wrong('takes the address of a page')
  if (block.takes === 'list') return field.is === 'list' ? field.of : wrong('takes a list')
  return where.fields
}

/** The field, or null once it is told that there is none of that name here. */
function known(path: hbs.AST.PathExpression, { fields, tell }: Where): KnownField | null {
  const name = path.original
  const isPlainName =
    path.type === 'PathExpression' &&
    !path.data &&
    path.depth === 0 &&
    String(path.parts) === name.split('.').join()
  if (isPlainName && Object.hasOwn(fields, name)) return fields[name]!
  tell(path.loc.start.line, `there is no field “${name}” here; known are ${Object.keys(fields).join(', ')}.`)
  return null
}

function misplaced(name: string, block: KnownBlock, place: Place): string {
  if (place === 'header') return `{{#${name}}} cannot stand here: this is one line of plain words and fields.`
  if (block.in.includes('lines')) return `{{#${name}}} stands in a list only: {{#items}} … {{/items}}.`
  if (block.in.includes('sentence')) return `{{#${name}}} stands within words only, such as {{#p}} … {{/p}}.`
  return `{{#${name}}} cannot stand inside another block; close that one first.`
}

const pathOf = (node: hbs.AST.Statement): string | null =>
  node.type === 'MustacheStatement'
    ? ((node as hbs.AST.MustacheStatement).path as hbs.AST.PathExpression).original
    : null

const isPlain = (node: hbs.AST.Statement) => {
  const { escaped, params, hash } = node as hbs.AST.MustacheStatement
  return escaped && params.length === 0 && !hash?.pairs.length
}

const lastLine = (program: hbs.AST.Program) => Math.max(1, program.loc?.end.line ?? 1)
