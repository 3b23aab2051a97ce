import { Readable } from 'node:stream'
import { stringify } from 'csv-stringify'
import type { FastifyReply } from 'fastify'
import { z } from 'zod'

/** What a route that gives a file says of its answer. */
export const csvResponse = {
  produces: ['text/csv'],
  response: { 200: z.string().describe('text/csv, UTF-8') },
}

/** Column heading → value. */
export type CsvColumns<Row> = Readonly<Record<string, (row: Row) => string | number | boolean | null>>

/**
 * Answers with a CSV file, written page by page as it is read: a list of any length needs little memory. Values that a
 * spreadsheet would take for a formula are made harmless. The first page is read before the answer begins, so that
 * what is wrong with the query is said as a problem, not as a torn file.
 */
export async function sendCsv<Row>(
  reply: FastifyReply,
  name: string,
  columns: CsvColumns<Row>,
  pages: AsyncIterator<readonly Row[]>,
) {
  const first = await pages.next()
  async function* lines() {
    for (let page = first; !page.done; page = await pages.next()) {
      for (const row of page.value) yield Object.values(columns).map((value) => value(row))
    }
  }
  const csv = stringify({
    header: true,
    columns: Object.keys(columns),
    bom: true,
    escape_formulas: true,
    record_delimiter: 'windows',
    cast: { boolean: (value) => (value ? 'yes' : 'no') },
  })
  const source = Readable.from(lines())
  source.on('error', (error) => csv.destroy(error))
  csv.on('close', () => source.destroy())
  return reply
    .header('content-type', 'text/csv; charset=utf-8')
    .header('content-disposition', `attachment; filename="${name}.csv"`)
    .send(source.pipe(csv) as never)
}

const PAGE = 1000

/** Walks a list from page to page by the sort values of the last row. */
export async function* everyPage<Row, After>(
  read: (after: After | null, limit: number) => Promise<Row[]>,
  sortValues: (last: Row) => After,
): AsyncGenerator<Row[]> {
  for (let after: After | null = null; ;) {
    const rows: Row[] = await read(after, PAGE)
    yield rows
    if (rows.length < PAGE) return
    after = sortValues(rows[rows.length - 1]!)
  }
}
