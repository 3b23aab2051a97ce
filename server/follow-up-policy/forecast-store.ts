import type { Day } from '../../trade/dates.ts'
import { addDays, daysBetween } from '../../trade/dates.ts'
import { STOP_CONDITIONS } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import { cadenceOf, mannerOf, type Policy } from '../../trade/follow-ups/policy.ts'
import { opensOn } from '../../trade/follow-ups/steps.ts'
import { SEVERITIES } from '../../trade/verdict.ts'
import type { Db } from '../db.ts'
import { causes } from '../follow-ups/causes-store.ts'
import { PLANNED_KINDS } from '../follow-ups/plan-store.ts'

export interface Forecast {
  moved: number
  opened: number
  ended: number
  atOnce: number
  thisMonth: number
  byKind: { kind: string; followUps: number }[]
}

/** Repeats of a notice that a month can hold, however long ago it fell due. */
const REPEATS = 40
const STEADFAST = PLANNED_KINDS.filter((kind) => FOLLOW_UP_KINDS[kind].keepsFirstDueOn)

/**
 * What a policy would open, move, end and send from now to a day. Reads only: nothing is locked, nothing written. Grouped
 * as the worker groups, one message a household and day, within the cap; what comes along from other homes, and hours of
 * the day, are left out, so it is a forecast and no promise.
 */
export async function forecast(
  db: Db,
  policy: Policy,
  { now, today, until }: { now: Date; today: Day; until: Day },
  later?: { battery: number; check: number },
): Promise<Forecast> {
  const kinds = kindRows(policy)
  const lead = Math.max(0, ...kinds.map(({ opens }) => -opens))
  const horizon = new Date(`${until}T00:00:00Z`)
  const given = { policy, now, scope: { until: horizon }, lead, ...(later && { later }) }
  const [row] = await db.$queryRaw<[Forecast]>`
    WITH k AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(kinds)}::jsonb)
                 AS k(kind text, severity text, preference text, opens int)),
    step AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(stepRows(policy))}::jsonb)
               AS s(kind text, severity text, days int, months int, mail boolean)),
    cause AS (${causes(given)}),
    live AS (
      SELECT c.kind, c.severity, c.subject_id, c.property_id, k.preference, f.id, f.state, f.snoozed_until,
             CASE WHEN c.kind = ANY(${STEADFAST}) THEN coalesce(f.due_on, c.due_on) ELSE c.due_on END AS due_on,
             CASE WHEN f.due_on = c.due_on OR c.kind = ANY(${STEADFAST}) THEN f.last_step END AS last_step,
             f.due_on IS DISTINCT FROM c.due_on AND f.id IS NOT NULL AND NOT c.kind = ANY(${STEADFAST}) AS moves,
             c.due_on + k.opens <= ${today}::date AS speaks
        FROM cause c JOIN k ON k.kind = c.kind AND k.severity = c.severity JOIN property p ON p.id = c.property_id
        LEFT JOIN follow_up f ON f.kind = c.kind AND f.subject_id = c.subject_id AND f.closed_at IS NULL
       WHERE p.archived_at IS NULL AND c.due_on + k.opens <= ${until}::date
         AND NOT EXISTS (SELECT 1 FROM follow_up ended WHERE ended.closed_at IS NOT NULL AND ended.due_on = c.due_on
                          AND ended.subject_id = c.subject_id AND ended.kind = c.kind
                          AND ended.closed_reason <> ${STOP_CONDITIONS['opted-out']})),
    notice AS (
      SELECT l.*, s.mail, (l.due_on + s.days + make_interval(months => s.months))::date AS on_day
        FROM live l JOIN step s ON s.kind = l.kind AND s.severity = l.severity
       WHERE coalesce(l.state, 'planned') IN ('planned', 'told')),
    due AS (
      SELECT n.*, row_number() OVER (PARTITION BY kind, subject_id, on_day <= ${today}::date ORDER BY on_day DESC) AS nth
        FROM notice n
       WHERE on_day <= ${until}::date
         AND (last_step IS NULL OR on_day > CASE WHEN last_step LIKE '%m'
               THEN (due_on + make_interval(months => regexp_replace(last_step, '[^0-9-]', '', 'g')::int))::date
               ELSE due_on + regexp_replace(last_step, '[^0-9-]', '', 'g')::int END)),
    told AS (
      SELECT d.kind, pp.customer_id, greatest(d.on_day, ${today}::date, coalesce(d.snoozed_until, d.on_day)) AS on_day
        FROM due d JOIN property_party pp ON pp.property_id = d.property_id AND pp.is_contact AND pp.until IS NULL
        JOIN customer c ON c.id = pp.customer_id AND c.email IS NOT NULL AND c.archived_at IS NULL
        LEFT JOIN suppressed_address a ON a.email = c.email
        LEFT JOIN message_preference mp ON mp.customer_id = c.id AND mp.category = d.preference
       WHERE d.mail AND (d.on_day > ${today}::date OR d.nth = 1) AND a.email IS NULL
         AND (d.preference NOT IN ('reminder', 'tips') OR coalesce(mp.allowed, d.preference <> 'tips'))),
    capped AS (
      SELECT customer_id, least(count(DISTINCT on_day), ${policy.cap.messages}::int) AS messages
        FROM told WHERE on_day <= ${until}::date
       GROUP BY customer_id, (on_day - ${today}::date) / ${policy.cap.days}::int),
    tonight AS (
      SELECT t.* FROM told t
       WHERE on_day = ${today}::date
         AND (SELECT count(*) FROM message m WHERE m.customer_id = t.customer_id AND m.category IN ('reminder', 'tips')
               AND m.state IN ('planned', 'sending', 'sent') AND m.created_at > ${since(now, policy)}) < ${policy.cap.messages})
    SELECT (SELECT count(*) FROM live WHERE moves AND speaks)::int AS moved,
           (SELECT count(*) FROM live WHERE id IS NULL AND speaks)::int AS opened,
           (SELECT count(*) FROM follow_up f WHERE f.closed_at IS NULL AND f.kind = ANY(${PLANNED_KINDS})
             AND f.kind <> 'surge-after-event'
             AND NOT EXISTS (SELECT 1 FROM live WHERE live.id = f.id AND live.speaks))::int AS ended,
           (SELECT count(DISTINCT customer_id) FROM tonight)::int AS "atOnce",
           (SELECT coalesce(sum(messages), 0) FROM capped)::int AS "thisMonth",
           (SELECT coalesce(json_agg(b ORDER BY b."followUps" DESC), '[]')
              FROM (SELECT kind, count(*)::int AS "followUps" FROM tonight GROUP BY kind) b) AS "byKind"`
  return row
}

const since = (now: Date, { cap }: Policy) => new Date(now.getTime() - cap.days * 86_400_000)

function severitiesOf(kind: string) {
  return kind === 'open-finding' || kind === 'make-safe-check' ? SEVERITIES : ([null] as const)
}

const SOME_DAY = '2001-01-01' as Day

function kindRows(policy: Policy) {
  return PLANNED_KINDS.flatMap((kind) =>
    severitiesOf(kind).map((severity) => ({
      kind,
      severity: severity ?? '',
      preference: mannerOf(kind, severity).preference,
      opens: daysBetween(SOME_DAY, opensOn(SOME_DAY, cadenceOf(policy, kind, severity))),
    })),
  )
}

function stepRows(policy: Policy) {
  return PLANNED_KINDS.flatMap((kind) =>
    severitiesOf(kind).flatMap((severity) => {
      const { steps, then } = cadenceOf(policy, kind, severity)
      const row = (days: number, months: number, by: readonly string[]) => ({
        ...{ kind, severity: severity ?? '', days, months },
        mail: by.includes('mail'),
      })
      const last = Math.max(...steps.map(({ days }) => days))
      const repeats = Array.from({ length: then ? REPEATS : 0 }, (_, n) => then!.every * (n + 1))
        .map((count) => (then!.unit === 'days' ? row(count, 0, then!.by) : row(0, count, then!.by)))
        .filter(({ days, months }) => addDays(SOME_DAY, days + months * 30) > addDays(SOME_DAY, last))
      return [...steps.map(({ days, by }) => row(days, 0, by)), ...repeats]
    }),
  )
}
