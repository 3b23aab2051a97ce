import { z } from 'zod'
import { textSchema } from '../fields.ts'
import { openJson } from '../fields.ts'
import { openView, reportSummary } from '../inspections/schema.ts'

// Routes (a technician reaches the reports of their own inspections; the office all of them):
//   GET  /inspections/:id/report-preview   what would be frozen now, and as a page; before or after it is complete
//   POST /inspections/:id/issue            freeze it as the next version; a later version needs a reason
//   GET  /inspections/:id/reports          every version, newest first
//   GET  /reports/:id                      one version: its content and the page
//   GET  /reports/:id/pdf                  the PDF

export const issueBody = z.strictObject({ reason: textSchema(1000).default('') })
export type IssueBody = z.output<typeof issueBody>

/** `content` is ReportContent of content.ts; `html` a fragment to be shown as it is. */
export const reportView = reportSummary.extend({ content: openJson, html: z.string() })
export type ReportView = z.output<typeof reportView>

export const reportList = z.array(reportSummary)

export const previewView = z.object({ content: openJson, html: z.string(), open: z.array(openView) })
export type PreviewView = z.output<typeof previewView>
