import { randomUUID } from 'node:crypto'
import Fastify from 'fastify'
import pg from 'pg'
import { againstBare } from './against-bare.ts'
import { startCompany } from './api-company.ts'
import type { Measurement } from './run.ts'

const ITEM = 'service.meter-enclosure'

/** One answer of the field sheet, against a bare route that upserts the same row with one hand-written statement. */
export async function run(): Promise<Measurement[]> {
  const company = await startCompany()
  const pool = new pg.Pool({ connectionString: company.databaseUrl, max: 10 })
  const { inspectionId } = company.home
  const { id: userId } = await company.db.user.findFirstOrThrow({
    where: { role: 'office' },
    select: { id: true },
  })
  // Another inspection of the same home: both write one row again and again, and not the same one.
  const { id: otherId } = await company.db.inspection.findFirstOrThrow({
    where: { id: { not: inspectionId } },
    select: { id: true },
  })
  const bare = Fastify()
  bare.post('/answers', async (request, reply) => {
    const body = request.body as Record<string, unknown>
    const { rows } = await pool.query(UPSERT, [
      randomUUID(),
      otherId,
      body['itemId'],
      body['subjectKind'],
      body['result'],
      body['readings'],
      userId,
    ])
    return reply.send(rows[0])
  })
  const bareAddress = await bare.listen({ port: 0, host: '127.0.0.1' })
  const body = JSON.stringify({ itemId: ITEM, subjectKind: 'home', result: 'ok', readings: {} })
  const json = { 'content-type': 'application/json' }
  try {
    return [
      await againstBare(
        'api.write',
        0.6,
        {
          url: `${company.address}/api/v1/inspections/${inspectionId}/answers`,
          method: 'POST',
          body,
          headers: { ...company.headers, ...json },
        },
        { url: `${bareAddress}/answers`, method: 'POST', body, headers: json },
      ),
    ]
  } finally {
    await bare.close()
    await pool.end()
    await company.stop()
  }
}

const UPSERT = `
  INSERT INTO answer (id, inspection_id, item_id, subject_kind, subject_id, result, readings, answered_by_id, answered_at)
  VALUES ($1, $2, $3, $4, NULL, $5, $6, $7, now())
  ON CONFLICT (inspection_id, item_id, subject_kind, subject_id) DO UPDATE SET result = excluded.result,
    readings = excluded.readings, answered_by_id = excluded.answered_by_id, answered_at = excluded.answered_at,
    version = answer.version + 1
  RETURNING *`
