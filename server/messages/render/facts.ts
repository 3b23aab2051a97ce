/** What every letter may tell. Addresses of pages are whole URLs. */
export interface CommonFacts {
  company: { name: string; phone: string; phoneUrl: string; email: string; addressLines: string[] }
  to: { name: string }
  /** The private page that the letter leads to. */
  pageUrl: string
  preferencesUrl: string
  /** Only on mail that can be refused with one click. */
  unsubscribeUrl: string | null
  isStaff: boolean
  /** They asked for it. */
  isTips: boolean
}

export interface VisitFacts {
  /** `inspection`, in the language of the letter. */
  kind: string
  day: string
  from: string
  to: string
  address: string
  technician: string
  minutes: number
  /** Why it was cancelled, say; may be empty. */
  reason: string
}
export interface DueItem {
  /** One calm sentence. */
  sentence: string
  isOverdue: boolean
}
export interface DueHome {
  address: string
  items: DueItem[]
}
export interface DangerHome {
  address: string
  /** Neither ends with a full stop; `makeSafe` may be empty. */
  items: { what: string; makeSafe: string }[]
}

/** Facts by kind; a template that asks for more fails when it is rendered. */
export type LetterFacts = CommonFacts & {
  visit?: VisitFacts
  homes?: (DueHome | DangerHome)[]
  count?: number
  isOne?: boolean
  isManyHomes?: boolean
  /** What the earliest of them is called, and the street of its home. */
  first?: string
  firstLine?: string
  /** Due things that the letter had no room for; the page lists them. */
  more?: number
  report?: { address: string; inspectedOn: string; version: number; findings: number; unsafe: number }
  /** `total`: with tax, of everything that is offered; `until` is empty where it has no last day. */
  estimate?: { number: number; address: string; total: string; until: string; hasOptions: boolean }
  request?: {
    address: string
    reason: string
    days: string
    time: string
    isCancelling: boolean
    isMoving: boolean
  }
  account?: { url: string; hours: number }
}
