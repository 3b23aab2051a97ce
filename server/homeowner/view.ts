import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import Handlebars from 'handlebars'
import type { Language } from '../../trade/day-in-words.ts'
import { PAGE_WORDS } from './words.ts'

const FOLDER = new URL('./views/', import.meta.url)
const handlebars = Handlebars.create()
const views = new Map(
  readdirSync(FOLDER)
    .filter((name) => name.endsWith('.hbs'))
    .map((file) => {
      const name = file.slice(0, -'.hbs'.length)
      const source = readFileSync(new URL(file, FOLDER), 'utf8')
      handlebars.registerPartial(name, source)
      return [name, handlebars.compile(source)] as const
    }),
)

export const STYLE = readFileSync(new URL('./page.css', import.meta.url), 'utf8')
/** Changes with the style, so that a browser may keep it for ever. */
export const STYLE_URL = `/h-style/${createHash('sha256').update(STYLE).digest('hex').slice(0, 12)}.css`

export interface CompanyOnPage {
  name: string
  phone: string
  email: string
  addressLines: string[]
}

/** A whole page. Everything that people typed is escaped; `facts` beginning with a fragment of ours are not. */
export function page(
  name: 'due' | 'visit' | 'report' | 'preferences' | 'thanks' | 'estimate' | 'unsubscribe' | 'problem',
  language: Language,
  company: CompanyOnPage,
  facts: Readonly<Record<string, unknown>> & { title: string; base: string | null },
): string {
  const w = PAGE_WORDS[language]
  const root = {
    ...facts,
    language,
    w,
    other: { code: w.otherLanguageCode, name: w.otherLanguage },
    styleUrl: STYLE_URL,
    isReport: name === 'report',
    isPreferences: name === 'preferences',
    company: { ...company, phoneUrl: `tel:${company.phone.replace(/[^\d+]/g, '')}` },
  }
  const body = views.get(name)!(root)
  return views.get('layout')!({ ...root, body })
}
