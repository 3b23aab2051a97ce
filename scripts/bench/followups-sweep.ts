import { totalmem } from 'node:os'
import { parseArgs } from 'node:util'
import pg from 'pg'
import type { Ctx } from '../../server/ctx.ts'
import type * as notifying from '../../server/follow-ups/notify.ts'
import type * as planning from '../../server/follow-ups/plan.ts'
import { compile } from '../compiled.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import type { Measurement } from './run.ts'
import { DEVICES_PER_HOME, fillCompany, TODAY } from './sweep-company.ts'

const compiled = compile(['trade', 'server', 'prisma/generated'])
const { planDue } = (await import(compiled('server/follow-ups/plan.js'))) as typeof planning
const { notify } = (await import(compiled('server/follow-ups/notify.js'))) as typeof notifying

const ROUNDS = 5
const DUE = 20_000

/**
 * The nightly run over a whole company: plan and notify, against one hand-written statement that picks the same devices
 * and writes the same follow-ups, messages, links and private links. Then the same with ten times fewer homes and just as
 * much due: the cost has to follow what is due, not what is stored. And the run after it, when all is open and nothing new.
 *
 *     npm run bench -- followups.sweep --homes=1000000
 */
export async function run(): Promise<Measurement[]> {
  const { values } = parseArgs({
    options: { homes: { type: 'string', default: '200000' } },
    allowPositionals: true,
  })
  const homes = Number(values.homes)
  if (!(Number.isInteger(homes) && homes >= 10 * DUE)) {
    throw new Error(`--homes takes a whole number from ${10 * DUE}: of a tenth of them ${DUE} are due`)
  }
  // A quarter of the machine's memory, as PostgreSQL's manual advises (§19.4.1): a company with so many homes has one
  // that is set up, and with the little that the tests give it, it is the reading of pages that is measured.
  const postgres = await startThrowawayPostgres([
    `shared_buffers=${Math.floor(totalmem() / 4 / 1024 / 1024)}MB`,
  ])
  try {
    const small = await fillCompany(postgres, 'small', homes / 10, DUE)
    const large = await fillCompany(postgres, 'large', homes, DUE)
    const client = new pg.Client({ connectionString: large.url })
    await client.connect()
    const rounds: { ours: number; bare: number; small: number; again: number }[] = []
    // The first round warms up statements, caches and the compiler; it does not count.
    for (let round = 0; round <= ROUNDS; round++) {
      const bare = await timed(large.ctx, () => client.query(BARE, [`${TODAY}T15:00:00Z`]))
      let again = NaN
      const ours = await timed(
        large.ctx,
        () => sweep(large.ctx),
        async () => void (again = await clocked(() => nothingNew(large.ctx))),
      )
      const fewer = await timed(small.ctx, () => sweep(small.ctx))
      if (round > 0) rounds.push({ ours, bare, small: fewer, again })
    }
    await client.end()
    await small.ctx.db.$disconnect()
    await large.ctx.db.$disconnect()
    const devices = homes * DEVICES_PER_HOME
    return [
      measurement(
        `followups.sweep`,
        rounds.map(({ ours, bare }) => ({ ours, bare })),
        '≤ 1.5',
        `ms, ${devices} devices`,
      ),
      measurement(
        `followups.sweep.scale`,
        rounds.map(({ ours, small: bare }) => ({ ours, bare })),
        '< 1.3',
        'ms, bare = a tenth of the homes',
      ),
      measurement(
        `followups.sweep.again`,
        rounds.map(({ again: ours, ours: bare }) => ({ ours, bare })),
        '≤ 0.25',
        'ms, with all of it open, nothing new; bare = the first run',
      ),
    ]
  } finally {
    await postgres.stop()
  }
}

function measurement(
  name: string,
  rounds: { ours: number; bare: number }[],
  aim: string,
  unit: string,
): Measurement {
  const middle = rounds.toSorted((a, b) => a.ours / a.bare - b.ours / b.bare)[Math.floor(rounds.length / 2)]!
  const ratio = Math.round((middle.ours / middle.bare) * 100) / 100
  return { name, ours: Math.round(middle.ours), bare: Math.round(middle.bare), ratio, aim, unit }
}

async function sweep(ctx: Ctx): Promise<void> {
  const { opened } = await planDue(ctx, ctx.db, {})
  const { messageIds } = await notify(ctx)
  if (opened !== DUE || messageIds.length !== DUE)
    throw new Error(`${opened} opened, ${messageIds.length} told`)
}

async function nothingNew(ctx: Ctx): Promise<void> {
  const { opened } = await planDue(ctx, ctx.db, {})
  const { messageIds } = await notify(ctx)
  if (opened + messageIds.length > 0) throw new Error(`${opened} opened, ${messageIds.length} told again`)
}

async function clocked(act: () => Promise<unknown>): Promise<number> {
  const start = performance.now()
  await act()
  return performance.now() - start
}

/** Times one way of doing it, checks what was written, and clears it away. */
async function timed(
  { db }: Ctx,
  act: () => Promise<unknown>,
  then: () => Promise<void> = async () => {},
): Promise<number> {
  const time = await clocked(act)
  await then()
  const [counts] = await db.$queryRawUnsafe<
    [{ told: bigint; messages: bigint; links: bigint; doors: bigint }]
  >(`
    SELECT (SELECT count(*) FROM follow_up WHERE state = 'told' AND last_step = '-90' AND next_notice_on = due_on - 30) AS told,
           (SELECT count(*) FROM message WHERE state = 'planned') AS messages,
           (SELECT count(*) FROM message_follow_up) AS links, (SELECT count(*) FROM private_link) AS doors`)
  for (const [what, count] of Object.entries(counts)) {
    if (Number(count) !== DUE) throw new Error(`${count} ${what} written instead of ${DUE}`)
  }
  await db.$executeRawUnsafe('TRUNCATE message_follow_up, private_link, message, follow_up CASCADE')
  await db.$executeRawUnsafe('VACUUM ANALYZE follow_up, message, message_follow_up, private_link')
  return time
}

/** What a person would write who knows that alarms are all there is: the same rows, without an engine. */
const BARE = `
  WITH due AS (
    SELECT e.id AS equipment_id, e.property_id, e.replace_by, e.label, p.line1, c.id AS customer_id, c.email, c.name,
           c.language, uuid_v7($1::timestamptz) AS follow_up_id, uuid_v7($1::timestamptz) AS message_id
      FROM equipment e JOIN property p ON p.id = e.property_id
      JOIN property_party pp ON pp.property_id = p.id AND pp.is_contact AND pp.until IS NULL
      JOIN customer c ON c.id = pp.customer_id
      LEFT JOIN suppressed_address s ON s.email = c.email
      LEFT JOIN message_preference mp ON mp.customer_id = c.id AND mp.category = 'reminder'
     WHERE e.retired_on IS NULL AND e.kind = 'alarm' AND p.archived_at IS NULL
       AND e.replace_by <= ($1::timestamptz AT TIME ZONE 'UTC')::date + 91
       AND e.replace_by - 90 <= ($1::timestamptz AT TIME ZONE p.time_zone)::date
       AND s.email IS NULL AND mp.allowed IS NOT FALSE AND c.archived_at IS NULL
       AND NOT EXISTS (SELECT 1 FROM follow_up f WHERE f.subject_id = e.id AND f.kind = 'alarm-end-of-life'
                        AND f.due_on = e.replace_by)
       AND NOT EXISTS (SELECT 1 FROM message m WHERE m.customer_id = c.id AND m.created_at > $1::timestamptz - interval '7 days'
                        AND m.category IN ('reminder', 'tips') AND m.state IN ('planned', 'sending', 'sent'))
       AND NOT EXISTS (SELECT 1 FROM visit v WHERE v.property_id = p.id AND v.state IN ('booked', 'travelling', 'on-site'))),
  opened AS (
    INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, equipment_id, due_on, reason, state, last_step,
                           next_notice_on, created_at, updated_at)
    SELECT follow_up_id, property_id, 'alarm-end-of-life', 'equipment', equipment_id, equipment_id, replace_by,
           'The alarm “' || label || '” should be replaced by ' || to_char(replace_by, 'FMMonth FMDD, YYYY') ||
           ': alarms lose their sensitivity with age.', 'told', '-90', replace_by - 30, $1, $1 FROM due),
  written AS (
    INSERT INTO message (id, kind, category, customer_id, property_id, to_address, to_name, language, dedupe_key,
                         message_id_header, reason, state, send_after, created_at, updated_at)
    SELECT message_id, 'due-reminder', 'reminder', customer_id, property_id, email, name, language,
           'due-reminder/' || customer_id || '/alarm-end-of-life/' || equipment_id || '/' || replace_by || '/-90',
           '<' || message_id || '@example.com>', 'At ' || line1 || ': Alarm at the end of its life', 'planned', $1, $1, $1
      FROM due),
  doors AS (
    INSERT INTO private_link (id, customer_id, property_id, purpose, token_hash, expires_at, created_at)
    SELECT message_id, customer_id, property_id, 'due', sha256(convert_to(message_id::text, 'UTF8')),
           $1::timestamptz + interval '180 days', $1 FROM due)
  INSERT INTO message_follow_up (message_id, follow_up_id, step) SELECT message_id, follow_up_id, '-90' FROM due`
