import type { MessageKind } from '../messages/categories.ts'

/** What a letter may tell. `where`: where it may stand, which follows from what it is. */
export type KnownField =
  /** Words or a number, written where they are needed. */
  | { is: 'words'; about: string; mayBeEmpty?: true }
  /** Asked with {{#if}} only. */
  | { is: 'yes-no'; about: string }
  /** The address of a page: for {{#button}} and {{#link}} only. */
  | { is: 'page'; about: string }
  /** Gone through with {{#each}}; inside, only its own fields are known. */
  | { is: 'list'; about: string; of: KnownFields }
export type KnownFields = Readonly<Record<string, KnownField>>

const words = (about: string): KnownField => ({ is: 'words', about })
const maybe = (about: string): KnownField => ({ is: 'words', about, mayBeEmpty: true })

const EVERY_LETTER: KnownFields = {
  'to.name': words('Name of the receiver'),
  'company.name': words('Name of the company'),
  'company.phone': words('Phone of the company'),
  'company.email': words('E-mail address that answers go to'),
}
const TO_CUSTOMERS: KnownFields = {
  ...EVERY_LETTER,
  pageUrl: { is: 'page', about: 'The receiver’s private page about what the letter tells' },
  preferencesUrl: { is: 'page', about: 'The page on which they choose what they are written to about' },
}
const VISIT: KnownFields = {
  ...TO_CUSTOMERS,
  'visit.kind': words('What the visit is: inspection, repair, check of the repair'),
  'visit.day': words('Day of the visit'),
  'visit.from': words('Earliest time of arrival'),
  'visit.to': words('Latest time of arrival'),
  'visit.address': words('Home that is visited'),
  'visit.technician': words('Name of the technician'),
  'visit.minutes': words('How long it takes, in minutes'),
}
const homes = (items: KnownFields): KnownField => ({
  is: 'list',
  about: 'Each home that the letter tells of',
  of: {
    address: words('Address of the home'),
    items: { is: 'list', about: 'Each thing to tell of that home', of: items },
  },
})
const SENTENCE: KnownFields = { sentence: words('What it is about, in one sentence') }
const COUNTS: KnownFields = {
  count: words('How many things are due'),
  isOne: { is: 'yes-no', about: 'Only one thing is due' },
  first: words('What the first of them is called, such as “Replace an alarm”'),
  firstLine: words('The street and number of the home of the first'),
  isManyHomes: { is: 'yes-no', about: 'It tells of more than one home' },
}
const ACCOUNT: KnownFields = {
  ...EVERY_LETTER,
  'account.url': { is: 'page', about: 'The page on which the password is chosen; it works once' },
  'account.hours': words('For how many hours that page works'),
}

/** Fields by kind of letter: all that a wording may ask for. The facts of every letter have them (render/facts.ts). */
export const KNOWN_FIELDS: Readonly<Record<MessageKind, KnownFields>> = {
  'visit-booked': VISIT,
  'visit-moved': VISIT,
  'visit-cancelled': { ...VISIT, 'visit.reason': maybe('Why it was cancelled') },
  'visit-no-access': VISIT,
  'visit-reminder': VISIT,
  'request-received': {
    ...TO_CUSTOMERS,
    'request.address': words('Home that the request is for'),
    'request.reason': maybe('What it is about'),
    'request.days': maybe('Days that suit them, or when in their own words'),
    'request.time': maybe('Time of day that suits them'),
    'request.isCancelling': {
      is: 'yes-no',
      about: 'They ask to cancel a visit, which stands until you have spoken',
    },
    'request.isMoving': {
      is: 'yes-no',
      about: 'They ask to move a visit, which stands until you have spoken',
    },
  },
  'report-issued': {
    ...TO_CUSTOMERS,
    'report.address': words('Home that was inspected'),
    'report.inspectedOn': words('Day of the inspection'),
    'report.version': words('Version of the report'),
    'report.findings': words('How many findings it has'),
    'report.unsafe': words('How many of them are unsafe; 0 counts as no in {{#if}}'),
  },
  'estimate-sent': {
    ...TO_CUSTOMERS,
    'estimate.number': words('Number of the estimate'),
    'estimate.address': words('Home that it is for'),
    'estimate.total': words('What everything that is offered comes to, with tax'),
    'estimate.until': maybe('Last day on which it can be accepted'),
    'estimate.hasOptions': { is: 'yes-no', about: 'Part of it may be taken or left' },
  },
  'unsafe-finding': {
    ...TO_CUSTOMERS,
    homes: homes({
      what: words('What was found, in the language of the letter; the technician’s own words as a quotation'),
      makeSafe: maybe('What the technician did for the moment'),
    }),
  },
  'due-reminder': {
    ...TO_CUSTOMERS,
    ...COUNTS,
    more: words('How many more are due than the letter has room for; 0 counts as no in {{#if}}'),
    homes: homes({ ...SENTENCE, isOverdue: { is: 'yes-no', about: 'It is past its date' } }),
  },
  'safety-tips': { ...TO_CUSTOMERS, homes: homes(SENTENCE) },
  invitation: ACCOUNT,
  'password-reset': ACCOUNT,
}
