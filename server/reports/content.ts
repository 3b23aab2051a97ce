import { createHash } from 'node:crypto'
import { z } from 'zod'

// What is frozen when a report is issued: everything that the page and the PDF print, in plain words and in the order
// in which it is read. Neither looks anywhere else, so that an old report reads as it did on its day.

const day = z.string()
const severity = z.enum(['unsafe', 'repair', 'investigate', 'improve', 'watch'])

const reportPhoto = z.object({
  id: z.string(),
  /** Of the stored picture. */
  sha256: z.string(),
  width: z.number(),
  height: z.number(),
  caption: z.string(),
  annotations: z.array(z.record(z.string(), z.unknown())),
})
export type ReportPhoto = z.output<typeof reportPhoto>

/** Signed on site; `drawing` is SVG path data in the box of trade/inspection/signature.ts. */
const signed = z.object({
  name: z.string(),
  at: z.string(),
  /** The instant as people at the home say it; older reports have none. */
  when: z.string().optional(),
  statement: z.string(),
  drawing: z.string().optional(),
})
export type Signed = z.output<typeof signed>

const reportFinding = z.object({
  /** Counts through the report: people say "number three" on the phone. */
  number: z.number(),
  id: z.string(),
  severity,
  area: z.string(),
  item: z.string(),
  /** What people call the place or thing; empty for the home. */
  place: z.string(),
  text: z.string(),
  /** Why it matters, for people who are not electricians. */
  why: z.string(),
  correction: z.string(),
  makeSafe: z.string().nullable(),
  refusal: signed.nullable(),
  watchUntil: day.nullable(),
  carried: z.boolean(),
  foundOn: day,
  /** What the rule that spoke says of it, and where that stands in print. */
  verdict: z
    .object({
      rule: z.string(),
      homeowner: z.string(),
      /** Its sentence for electricians; reports before 2026-12 have it not. */
      technician: z.string().optional(),
      requiredWhenBuilt: z.string(),
      requiredToday: z.string(),
      references: z.array(z.string()),
    })
    .nullable(),
  photos: z.array(reportPhoto),
})
export type ReportFinding = z.output<typeof reportFinding>

export const reportContent = z.object({
  /** Of this shape, so that old reports stay readable. */
  format: z.literal(1),
  version: z.number(),
  reason: z.string(),
  issuedOn: day,
  issuedBy: z.string(),
  company: z.object({
    name: z.string(),
    phone: z.string(),
    email: z.string(),
    addressLines: z.array(z.string()),
  }),
  property: z.object({
    line1: z.string(),
    line2: z.string(),
    city: z.string(),
    region: z.string(),
    postcode: z.string(),
    yearBuilt: z.number().nullable(),
  }),
  customer: z.object({ name: z.string() }),
  inspection: z.object({
    id: z.string(),
    inspectedOn: day,
    technician: z.string(),
    checklistVersion: z.number(),
    note: z.string(),
  }),
  /** Who has authority, and the edition in force on the day; null where nobody recorded it. */
  jurisdiction: z.object({ name: z.string(), edition: z.string().nullable() }).nullable(),
  answer: z.object({
    safety: z.enum(['not-safe', 'made-safe', 'repairs-needed', 'more-work-needed', 'sound']),
    headline: z.string(),
    limits: z.string().nullable(),
    /** Numbers of the findings to see to first. */
    first: z.array(z.number()),
  }),
  findings: z.array(
    z.object({ severity, title: z.string(), meaning: z.string(), findings: z.array(reportFinding) }),
  ),
  /** Work that was offered and not wanted; reports from before it could be signed have none. */
  workDeclined: signed.extend({ findings: z.array(z.number()) }).optional(),
  devices: z.array(
    z.object({
      kind: z.string(),
      name: z.string(),
      place: z.string(),
      manufacturedOn: day.nullable(),
      installedOn: day.nullable(),
      replaceBy: day.nullable(),
      /** The date rests on something that nobody read off the device. */
      assumed: z.boolean(),
      nextCheckOn: day.nullable(),
    }),
  ),
  good: z.array(
    z.object({
      area: z.string(),
      items: z.array(z.object({ title: z.string(), places: z.array(z.string()) })),
    }),
  ),
  settled: z.array(
    z.object({ text: z.string(), foundOn: day, outcome: z.string(), note: z.string() }),
  ),
  notInspected: z.array(
    z.object({ area: z.string(), title: z.string(), places: z.array(z.string()), reason: z.string(), note: z.string() }),
  ),
  leftOut: z.array(z.object({ area: z.string(), title: z.string(), reason: z.string() })),
  cautions: z.array(z.string()),
})
export type ReportContent = z.output<typeof reportContent>

/**
 * JSON with one way to write it, so that the same content has the same hash wherever it is computed: names sorted by
 * UTF-16 code units, no blanks, numbers and strings as ECMAScript writes them. RFC 8785 §3.2.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((each) => canonicalJson(each ?? null)).join(',')}]`
  if (value === null || typeof value !== 'object') return JSON.stringify(value)
  const members = Object.entries(value)
    .filter(([, each]) => each !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
  return `{${members.map(([name, each]) => `${JSON.stringify(name)}:${canonicalJson(each)}`).join(',')}}`
}

/** SHA-256 of the canonical JSON, hexadecimal. */
export function hashOf(content: ReportContent): string {
  return createHash('sha256').update(canonicalJson(content)).digest('hex')
}
