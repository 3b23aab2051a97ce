/** The words of a letter that people may change: two lines, and the text in blocks. */
export interface WordingParts {
  subject: string
  /** First line in a list of mails. */
  preview: string
  body: string
}
export const PART_NAMES = ['subject', 'preview', 'body'] as const
export type PartName = (typeof PART_NAMES)[number]

/** As a template is kept, in a file as well as in the database. */
export function sourceOf({ subject, preview, body }: WordingParts): string {
  return `{{#subject}}${subject}{{/subject}}\n{{#preview}}${preview}{{/preview}}\n${body}\n`
}

const SOURCE =
  /^\s*\{\{#subject\}\}([\s\S]*?)\{\{\/subject\}\}\s*\{\{#preview\}\}([\s\S]*?)\{\{\/preview\}\}\s*\n([\s\S]*)$/

/** @throws when it was not made by `sourceOf` */
export function partsOf(source: string): WordingParts {
  const found = SOURCE.exec(source)
  if (!found) throw new Error('A template begins with its subject and its preview.')
  const [subject, preview, body] = found.slice(1) as [string, string, string]
  return { subject, preview, body: body.trimEnd() }
}
