import Fastify from 'fastify'
import pg from 'pg'
import { againstBare } from './against-bare.ts'
import { DAY, startCompany } from './api-company.ts'
import type { Measurement } from './run.ts'

/** The two busiest screens of the office, against a bare route that runs one hand-written statement for the same rows. */
export async function run(): Promise<Measurement[]> {
  const company = await startCompany()
  const pool = new pg.Pool({ connectionString: company.databaseUrl, max: 10 })
  const bare = Fastify()
  const rows = (url: string, sql: string, values: unknown[]) =>
    bare.get(url, async (_request, reply) => {
      const { rows: found } = await pool.query(sql, values)
      return reply.send(found)
    })
  rows('/day', DAY_SQL, [DAY])
  rows('/home', HOME_SQL, [company.home.propertyId])
  const bareAddress = await bare.listen({ port: 0, host: '127.0.0.1' })
  try {
    const ours = (path: string) => ({ url: `${company.address}/api/v1${path}`, headers: company.headers })
    return [
      await againstBare('api.read.day', 0.7, ours(`/visits/day?day=${DAY}`), { url: `${bareAddress}/day` }),
      await againstBare('api.read.home', 0.7, ours(`/properties/${company.home.propertyId}`), {
        url: `${bareAddress}/home`,
      }),
    ]
  } finally {
    await bare.close()
    await pool.end()
    await company.stop()
  }
}

const DAY_SQL = `
  SELECT t.id AS technician_id, t.name AS technician, t.phone AS technician_phone, v.id, v.kind, v.state, v.window_starts_at,
    v.window_ends_at, v.starts_at, v.ends_at, v.length_minutes, v.note, v.version, c.id AS customer_id, c.name, c.phone,
    p.id AS property_id, p.line1, p.line2, p.city, p.postcode, p.time_zone, p.latitude, p.longitude, i.id AS inspection_id,
    i.state AS inspection_state
  FROM visit v JOIN staff t ON t.id = v.technician_id JOIN customer c ON c.id = v.customer_id
  JOIN property p ON p.id = v.property_id LEFT JOIN inspection i ON i.visit_id = v.id
  WHERE v.starts_at >= $1::date::timestamp AT TIME ZONE 'America/New_York'
    AND v.starts_at < ($1::date + 1)::timestamp AT TIME ZONE 'America/New_York'
  ORDER BY t.name, t.id, v.starts_at`

const HOME_SQL = `
  SELECT p.*,
    (SELECT json_agg(x) FROM (SELECT x.role, x.is_contact, x.since, x.until, c.id, c.name, c.kind, c.phone, c.email
       FROM property_party x JOIN customer c ON c.id = x.customer_id WHERE x.property_id = p.id) x) AS parties,
    (SELECT json_agg(s ORDER BY s.position) FROM space s WHERE s.property_id = p.id) AS spaces,
    (SELECT json_agg(e ORDER BY e.kind, e.label) FROM equipment e WHERE e.property_id = p.id) AS equipment,
    (SELECT json_agg(f ORDER BY f.found_on) FROM finding f WHERE f.property_id = p.id AND f.closed_on IS NULL) AS findings,
    (SELECT json_agg(r) FROM visit_request r WHERE r.property_id = p.id) AS requests,
    (SELECT json_agg(x) FROM (SELECT v.*, t.name FROM visit v JOIN staff t ON t.id = v.technician_id
       WHERE v.property_id = p.id ORDER BY v.starts_at DESC) x) AS visits,
    (SELECT json_agg(i) FROM inspection i WHERE i.property_id = p.id) AS inspections,
    (SELECT json_agg(x) FROM (SELECT r.id, r.version, r.issued_at FROM report r JOIN inspection i ON i.id = r.inspection_id
       WHERE i.property_id = p.id) x) AS reports,
    (SELECT json_agg(u ORDER BY u.due_on) FROM follow_up u WHERE u.property_id = p.id) AS follow_ups,
    (SELECT json_agg(x) FROM (SELECT m.id, m.kind, m.category, m.to_name, m.subject, m.state, m.reason, m.created_at, m.sent_at
       FROM message m WHERE m.property_id = p.id ORDER BY m.created_at DESC LIMIT 100) x) AS messages,
    (SELECT json_agg(e) FROM estimate e WHERE e.property_id = p.id) AS estimates
  FROM property p WHERE p.id = $1`
