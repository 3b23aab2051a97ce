import type { MessageKind } from '../messages/categories.ts'

/** Where something may stand: between blocks, among the lines of a list, inside a sentence, or in subject and preview. */
export type Place = 'text' | 'lines' | 'sentence' | 'header'

export interface KnownBlock {
  /** Where the block may stand. */
  in: readonly Place[]
  /** What may stand in it. */
  holds: Place | 'same'
  takes: 'nothing' | 'page' | 'list' | 'condition' | 'label'
  about: string
  example: string
}

/** All that a letter is made of; each is written as HTML and as plain text (render/blocks.ts). Nothing else is taken. */
export const KNOWN_BLOCKS: Readonly<Record<string, KnownBlock>> = {
  heading: {
    in: ['text'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'The headline',
    example: '{{#heading}}We are coming{{/heading}}',
  },
  p: {
    in: ['text'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'A paragraph',
    example: '{{#p}}Hello {{to.name}}, …{{/p}}',
  },
  small: {
    in: ['text'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'Small print',
    example: '{{#small}}…{{/small}}',
  },
  warning: {
    in: ['text'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'A warning in red',
    example: '{{#warning}}Please read this today.{{/warning}}',
  },
  home: {
    in: ['text'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'A smaller headline, for each home',
    example: '{{#home}}{{address}}{{/home}}',
  },
  items: {
    in: ['text'],
    holds: 'lines',
    takes: 'nothing',
    about: 'A list; holds {{#item}} and {{#fact}}',
    example: '{{#items}} … {{/items}}',
  },
  item: {
    in: ['lines'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'A line of a list',
    example: '{{#item}}{{sentence}}{{/item}}',
  },
  fact: {
    in: ['lines'],
    holds: 'sentence',
    takes: 'label',
    about: 'A line with its name; left out when empty',
    example: '{{#fact "Day"}}{{visit.day}}{{/fact}}',
  },
  button: {
    in: ['text'],
    holds: 'sentence',
    takes: 'page',
    about: 'A large button to a page',
    example: '{{#button pageUrl}}See the visit{{/button}}',
  },
  link: {
    in: ['sentence'],
    holds: 'sentence',
    takes: 'page',
    about: 'A link in a sentence',
    example: '{{#link pageUrl}}your page{{/link}}',
  },
  strong: {
    in: ['sentence'],
    holds: 'sentence',
    takes: 'nothing',
    about: 'Bold words',
    example: '{{#strong}}today{{/strong}}',
  },
  if: {
    in: ['text', 'lines', 'sentence', 'header'],
    holds: 'same',
    takes: 'condition',
    about: 'Only when it is there; {{else}} is allowed',
    example: '{{#if visit.reason}} … {{/if}}',
  },
  unless: {
    in: ['text', 'lines', 'sentence', 'header'],
    holds: 'same',
    takes: 'condition',
    about: 'Only when it is not there',
    example: '{{#unless isOne}} … {{/unless}}',
  },
  each: {
    in: ['text', 'lines'],
    holds: 'same',
    takes: 'list',
    about: 'Once for each of a list',
    example: '{{#each homes}} … {{/each}}',
  },
}

/** Letters with words of caution that nobody may change or leave out; {{caution}} says where they stand. */
export const KINDS_WITH_CAUTION: readonly MessageKind[] = [
  'unsafe-finding',
  'report-issued',
  'request-received',
]
