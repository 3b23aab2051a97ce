import type { MessageKind } from '../../server/messages/categories.ts'
import type { WordingParts } from '../../server/wording/parts.ts'

/** A wording of the confirmation of a visit that may be saved. */
export const GOOD: WordingParts = {
  subject: 'We come on {{visit.day}}',
  preview: 'Between {{visit.from}} and {{visit.to}}.',
  body:
    '{{#heading}}See you at {{visit.address}}{{/heading}}\n' +
    '{{#p}}Dear {{to.name}}, we come on {{visit.day}} between {{visit.from}} and {{visit.to}}.{{/p}}\n' +
    '{{#button pageUrl}}Your visit{{/button}}',
}

/** With words in a paragraph, on line 5. */
const p = (words: string) => `${GOOD.body}\n{{#p}}\n${words}\n{{/p}}`
/** With words for each home, from line 3 on. */
const due = (words: string) =>
  `{{#each homes}}\n{{#home}}{{address}}{{/home}}\n${words}\n{{/each}}\n{{#button pageUrl}}See{{/button}}`
/** The text of a reminder that may be saved. */
export const ALL_DUE = due('{{#items}}\n{{#each items}}{{#item}}{{sentence}}{{/item}}{{/each}}\n{{/items}}')
const UNSAFE = ALL_DUE.replace('sentence', 'what')

/** What is wrong with it; the letter; what is other than in one that may be saved; where, on which line, and the words. */
export type Refused = [string, MessageKind, Partial<WordingParts>, `#/${keyof WordingParts}`, number, RegExp]

// One fault, one line.
// prettier-ignore
export const REFUSED: Refused[] = [
  ['an unknown field', 'visit-booked', { body: p('on {{visit.dya}}') }, '#/body', 5, /no field “visit.dya” here; known are .*visit\.day/],
  ['an unknown field in the subject', 'visit-booked', { subject: 'On {{day}}' }, '#/subject', 1, /no field “day”/],
  ['a field of another letter', 'visit-booked', { body: p('{{account.url}}') }, '#/body', 5, /no field “account.url”/],
  ['a field of the list outside of it', 'due-reminder', { body: `${ALL_DUE}\n{{#p}}{{sentence}}{{/p}}` }, '#/body', 8, /no field “sentence”/],
  ['a field of the letter inside a list', 'due-reminder', { body: due('{{#p}}{{to.name}}{{/p}}') }, '#/body', 3, /no field “to.name” here; known are address, items/],
  ['what JavaScript objects have', 'visit-booked', { body: p('{{constructor}}') }, '#/body', 5, /no field “constructor”/],
  ['a way round by this', 'visit-booked', { body: p('{{this.to.name}}') }, '#/body', 5, /no field “this.to.name”/],
  ['a way out by the root', 'visit-booked', { body: p('{{@root.letter.subject}}') }, '#/body', 5, /no field “@root.letter.subject”/],
  ['a way up', 'due-reminder', { body: due('{{#p}}{{../company.phone}}{{/p}}') }, '#/body', 3, /no field “..\/company.phone”/],
  ['a name in brackets', 'visit-booked', { body: p('{{[to.name]}}') }, '#/body', 5, /no field/],
  ['a block that is not closed', 'visit-booked', { body: `${GOOD.body}\n{{#p}}We come\nsoon` }, '#/body', 4, /\{\{#p\}\} is not closed; write \{\{\/p\}\}/],
  ['a block closed by another', 'visit-booked', { body: p('{{#strong}}a{{/p}}') }, '#/body', 5, /close it with \{\{\/strong\}\}/],
  ['an end that closes nothing', 'visit-booked', { body: `${GOOD.body}\n{{/p}}` }, '#/body', 4, /closes nothing/],
  ['a brace too few', 'visit-booked', { body: p('{{to.name}') }, '#/body', 5, /cannot be read: look for a brace/],
  ['an else by itself', 'visit-booked', { preview: 'a {{else}} b' }, '#/preview', 1, /outside of \{\{#if\}\}/],
  ['three braces', 'visit-booked', { body: p('{{{to.name}}}') }, '#/body', 5, /let anything through; write \{\{to.name\}\}/],
  ['an ampersand in braces', 'visit-booked', { subject: '{{&to.name}}' }, '#/subject', 1, /let anything through/],
  ['a partial', 'visit-booked', { body: `${GOOD.body}\n{{> footer.en}}` }, '#/body', 4, /parts of other letters cannot be taken in/],
  ['a partial around a block', 'visit-booked', { body: `${GOOD.body}\n{{#> layout}}a{{/layout}}` }, '#/body', 4, /cannot be taken in|cannot be read/],
  ['a partial of its own', 'visit-booked', { body: `${GOOD.body}\n{{#*inline "a"}}b{{/inline}}` }, '#/body', 4, /cannot be taken in|cannot be read/],
  ['a raw block', 'visit-booked', { body: `${GOOD.body}\n{{{{p}}}}{{to.name}}{{{{/p}}}}` }, '#/body', 4, /only shown are not taken/],
  ['braces to be shown', 'visit-booked', { body: p('\\{{to.name}}') }, '#/body', 5, /without a backslash/],
  ['a helper that is not on the list', 'visit-booked', { body: p('{{lookup to "name"}}') }, '#/body', 5, /“lookup” is not something that can be worked out/],
  ['the log', 'visit-booked', { body: p('{{log "x"}}') }, '#/body', 5, /cannot be|is not something/],
  ['a block that is not on the list', 'visit-booked', { body: `${GOOD.body}\n{{#with to}}a{{/with}}` }, '#/body', 4, /no block “with”; known are heading, p/],
  ['a field as a block', 'visit-booked', { body: p('{{#to.name}}a{{/to.name}}') }, '#/body', 5, /write \{\{#if to.name\}\}/],
  ['a block as a field', 'visit-booked', { body: p('{{strong}}') }, '#/body', 5, /“strong” is a block/],
  ['something worked out', 'visit-booked', { body: p('{{#if (lookup to "name")}}a{{/if}}') }, '#/body', 5, /takes a field of the list/],
  ['names of its own', 'due-reminder', { body: '{{#each homes as |h|}}a{{/each}}' }, '#/body', 1, /takes no names of its own/],
  ['a list that is none', 'visit-booked', { body: `${GOOD.body}\n{{#each visit.day}}a{{/each}}` }, '#/body', 4, /takes a list/],
  ['a list as words', 'due-reminder', { body: `${ALL_DUE}\n{{#p}}{{homes}}{{/p}}` }, '#/body', 8, /is a list; go through it/],
  ['a yes-or-no as words', 'due-reminder', { body: `${ALL_DUE}\n{{#p}}{{isOne}}{{/p}}` }, '#/body', 8, /is yes or no; ask for it/],
  ['an address of a page as words', 'visit-booked', { body: p('{{pageUrl}}') }, '#/body', 5, /is put into a button or link/],
  ['a button to somewhere else', 'visit-booked', { body: `${GOOD.body}\n{{#button "https://example.com"}}a{{/button}}` }, '#/body', 4, /takes a field of the list/],
  ['a button to no page', 'visit-booked', { body: `${GOOD.body}\n{{#button to.name}}a{{/button}}` }, '#/body', 4, /takes the address of a page/],
  ['a fact without its name', 'visit-booked', { body: `${GOOD.body}\n{{#items}}{{#fact}}a{{/fact}}{{/items}}` }, '#/body', 4, /takes one thing/],
  ['an else where nothing is asked', 'visit-booked', { body: p('{{#strong}}a{{else}}b{{/strong}}') }, '#/body', 5, /belongs into \{\{#if\}\}/],
  ['words outside of a block', 'visit-booked', { body: `${GOOD.body}\n\nWe come.` }, '#/body', 5, /“We come.” stands outside of a block/],
  ['a field outside of a block', 'visit-booked', { body: `${GOOD.body}\n{{to.name}}` }, '#/body', 4, /stands outside of a block/],
  ['a line outside of a list', 'visit-booked', { body: `${GOOD.body}\n{{#item}}a{{/item}}` }, '#/body', 4, /stands in a list only/],
  ['a paragraph in a paragraph', 'visit-booked', { body: p('{{#p}}a{{/p}}') }, '#/body', 5, /inside another block/],
  ['a heading in the subject', 'visit-booked', { subject: '{{#strong}}a{{/strong}}' }, '#/subject', 1, /one line of plain words/],
  ['HTML', 'visit-booked', { body: `${GOOD.body}\n{{#p}}Hi <b>you</b>{{/p}}` }, '#/body', 4, /“<b>” is HTML/],
  ['a picture from elsewhere', 'visit-booked', { body: p('<img src="https://example.com/x.png">') }, '#/body', 5, /is HTML/],
  ['a comment that would hide the foot', 'visit-booked', { body: p('<!-- ') }, '#/body', 5, /is HTML/],
  ['an empty subject', 'visit-booked', { subject: '  ' }, '#/subject', 1, /no words here/],
  ['an empty text', 'visit-booked', { body: '\n' }, '#/body', 1, /no words here/],
  ['a subject that is empty for some', 'due-reminder', { subject: '{{#if isOne}}One thing{{/if}}', body: ALL_DUE }, '#/subject', 1, /The subject is empty with the made-up home/],
  ['a subject of 500 letters', 'visit-booked', { subject: 'a'.repeat(500) }, '#/subject', 1, /500 letters; 400 are the most/],
  ['a text of 31,000 letters', 'visit-booked', { body: p('a '.repeat(15_500)) }, '#/body', 1, /30000 are the most/],
  ['a letter above 100 kB when much is due', 'due-reminder', { body: ALL_DUE.replace('{{sentence}}', `{{sentence}} ${'word '.repeat(500)}`) }, '#/body', 1, /kB; 100 kB is the most\. .*when as much as possible/],
  ['no way to their page', 'visit-booked', { body: GOOD.body.replace(/\{\{#button.*/, '') }, '#/body', 1, /\{\{pageUrl\}\} is missing/],
  ['a way to their page for some only', 'due-reminder', { body: ALL_DUE.replace(/(\{\{#button.*)/, '{{#if isOne}}$1{{/if}}') }, '#/body', 1, /\{\{pageUrl\}\} is missing/],
  ['a booking that does not say when', 'visit-booked', { body: GOOD.body.replaceAll('{{visit.from}}', 'nine') }, '#/body', 1, /\{\{visit.from\}\} is missing/],
  ['a reminder that does not say of what', 'due-reminder', { body: due('') }, '#/body', 1, /\{\{sentence\}\} is missing/],
  ['an invitation without its page', 'invitation', { body: '{{#p}}Welcome{{/p}}' }, '#/body', 1, /\{\{account.url\}\} is missing/],
  ['a warning without the caution', 'unsafe-finding', { body: UNSAFE }, '#/body', 7, /words of caution are missing; write \{\{caution\}\}/],
  ['the caution for some only', 'unsafe-finding', { body: `${UNSAFE}\n{{#if homes}}{{caution}}{{/if}}` }, '#/body', 8, /outside of every block/],
  ['the caution twice', 'unsafe-finding', { body: `${UNSAFE}\n{{caution}}\n{{caution}}` }, '#/body', 9, /a second time/],
  ['a caution where there is none', 'visit-booked', { body: `${GOOD.body}\n{{caution}}` }, '#/body', 4, /or not at all/],
]
