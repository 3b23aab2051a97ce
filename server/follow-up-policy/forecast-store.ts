import { Prisma } from '../../prisma/generated/client.ts'
import type { Day } from '../../trade/dates.ts'
import { FOLLOW_UP_KINDS } from '../../trade/follow-ups/kinds.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'
import type { Db } from '../db.ts'
import { causes } from '../follow-ups/causes-store.ts'
import { ENDED, IS_WELCOME } from '../follow-ups/plan-store.ts'
import { PLANNED_KINDS } from '../follow-ups/planned-kinds.ts'
import { kindRows, stepRows } from './forecast-tables.ts'

export interface Forecast {
  moved: number
  opened: number
  ended: number
  atOnce: number
  thisMonth: number
  byKind: { kind: string; followUps: number }[]
}

const STEADFAST = PLANNED_KINDS.filter((kind) => FOLLOW_UP_KINDS[kind].keepsFirstDueOn)

/** The day that a stored step names: trade/follow-ups/steps.ts dayOfStep. */
const DAY_OF_LAST_STEP = Prisma.sql`CASE WHEN last_step LIKE '%m'
  THEN (due_on + make_interval(months => regexp_replace(last_step, '[^0-9-]', '', 'g')::int))::date
  ELSE due_on + regexp_replace(last_step, '[^0-9-]', '', 'g')::int END`

/** What is due, and where its follow-up will stand when the planner has been through: plan-store.ts. */
const live = Prisma.sql`
  d AS (
    SELECT c.*, k.preference, k.topic, k.payer, k.rests, k.opens
      FROM cause c JOIN k ON k.kind = c.kind AND k.severity = c.severity JOIN property p ON p.id = c.property_id
     WHERE p.archived_at IS NULL),
  ended AS MATERIALIZED (
    ${ENDED} FROM follow_up WHERE closed_at IS NOT NULL AND subject_id IN (SELECT subject_id FROM d)
     GROUP BY 1, 2, 3),
  known AS (
    SELECT d.*, f.id, f.state, f.due_on AS stands_on, f.last_step AS given, f.snoozed_until, f.request_id,
           e.last_step AS said_before, e.kind IS NOT NULL AND NOT e.is_put_off AND NOT (e.is_refusal AND ${IS_WELCOME}) AS is_over,
           EXISTS (SELECT 1 FROM visit v WHERE v.property_id = d.property_id
                    AND v.state IN ('booked', 'travelling', 'on-site')) AS is_coming
      FROM d LEFT JOIN follow_up f ON f.kind = d.kind AND f.subject_id = d.subject_id AND f.closed_at IS NULL
      LEFT JOIN ended e ON e.kind = d.kind AND e.subject_id = d.subject_id AND e.due_on = d.due_on),
  settled AS (
    SELECT n.*, n.id IS NOT NULL AND (n.kind = ANY(${STEADFAST}) OR n.is_over) AS stays FROM known n
     WHERE n.id IS NOT NULL OR NOT n.is_over),
  live AS (
    SELECT kind, severity, subject_id, property_id, preference, topic, payer, opens, id, due_on + opens AS opens_on,
           stands_on = due_on AS stands,
           CASE WHEN stays THEN stands_on ELSE due_on END AS due_on,
           CASE WHEN id IS NULL THEN said_before WHEN stays OR stands_on = due_on THEN given END AS last_step,
           CASE WHEN stays OR stands_on = due_on THEN snoozed_until END AS snoozed_until,
           id IS NOT NULL AND NOT stays AND stands_on <> due_on AS moves,
           CASE WHEN severity = 'unsafe' THEN 'planned'
                WHEN is_coming AND rests THEN 'booked'
                WHEN state IN ('asked', 'booked') AND EXISTS (SELECT 1 FROM visit_request r
                       WHERE r.id = request_id AND r.state <> 'withdrawn' AND (state = 'asked' OR r.state = 'waiting'))
                  THEN 'asked'
                ELSE 'planned' END AS state
      FROM settled)`

/**
 * What a policy would open, move, end and send from now to a day. Reads only: nothing is locked, nothing written. By the
 * rules of the planner and of decide.ts: who is told, what they have switched off, addresses put aside, visits on their
 * way, and the cap. Left out are hours of the day, and what comes along a few days early in the message of something
 * else; so the month is an upper bound.
 */
export async function forecast(
  db: Db,
  policy: Policy,
  { now, today, until }: { now: Date; today: Day; until: Day },
  hasOtherIntervals = false,
): Promise<Forecast> {
  const kinds = kindRows(policy)
  const lead = Math.max(0, ...kinds.map(({ opens }) => -opens))
  const horizon = new Date(`${until}T00:00:00Z`)
  const given = { policy, now, scope: { until: horizon }, lead, hasOtherIntervals }
  const [row] = await db.$queryRaw<[Forecast]>`
    WITH k AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(kinds)}::jsonb)
                 AS k(kind text, severity text, preference text, topic text, payer boolean, rests boolean, opens int)),
    step AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(stepRows(policy))}::jsonb)
               AS s(kind text, severity text, days int, months int, mail boolean)),
    cause AS (${causes(given)}),
    ${live},
    speaking AS (
      SELECT l.*, opens_on <= ${today}::date AS speaks FROM live l WHERE opens_on <= ${until}::date OR stands),
    notice AS (
      SELECT l.*, s.mail, (l.due_on + s.days + make_interval(months => s.months))::date AS on_day
        FROM speaking l JOIN step s ON s.kind = l.kind AND s.severity = l.severity
       WHERE l.state = 'planned'),
    due AS (
      SELECT n.*, row_number() OVER (PARTITION BY kind, subject_id, on_day <= ${today}::date ORDER BY on_day DESC) AS nth
        FROM notice n
       WHERE on_day <= ${until}::date),
    said AS (
      SELECT kind, subject_id, property_id, preference, topic, payer,
             greatest(on_day, ${today}::date, coalesce(snoozed_until, on_day)) AS on_day
        FROM due
       WHERE mail AND (on_day > ${today}::date OR nth = 1) AND (last_step IS NULL OR on_day > ${DAY_OF_LAST_STEP})
      UNION
      -- Asked to be reminded on a day, they are, also where no step falls into the rest.
      SELECT kind, subject_id, property_id, preference, topic, payer, greatest(snoozed_until, ${today}::date)
        FROM speaking l
       WHERE state = 'planned' AND snoozed_until <= ${until}::date
         AND (last_step IS NULL OR ${DAY_OF_LAST_STEP} < snoozed_until)
         AND EXISTS (SELECT 1 FROM step s WHERE s.kind = l.kind AND s.severity = l.severity AND s.mail)),
    told AS (
      SELECT d.kind, d.on_day, c.id AS customer_id, d.preference IN ('reminder', 'tips') AS is_offer,
             -- One message for all offers of a day, one for all dangers, one for each visit.
             CASE WHEN d.preference IN ('reminder', 'tips') THEN 'offer' WHEN d.preference = 'booking'
                  THEN d.subject_id::text ELSE d.preference END AS letter
        FROM said d
        LEFT JOIN visit v ON v.id = d.subject_id AND d.payer
        LEFT JOIN estimate x ON x.id = d.subject_id AND d.payer
        LEFT JOIN property_party pp ON pp.property_id = d.property_id AND pp.is_contact AND pp.until IS NULL
        JOIN customer c ON c.id = coalesce(x.customer_id, v.customer_id, pp.customer_id)
                       AND c.email IS NOT NULL AND c.archived_at IS NULL
       WHERE d.on_day <= ${until}::date
         AND NOT EXISTS (SELECT 1 FROM suppressed_address a WHERE a.email = c.email)
         AND NOT (d.kind = 'no-access-rebooking' AND EXISTS (
               SELECT 1 FROM message m WHERE m.visit_id = d.subject_id AND m.kind = 'visit-no-access'))
         AND (d.preference NOT IN ('reminder', 'tips')
              OR coalesce((SELECT w.allowed FROM message_preference w
                            WHERE w.customer_id = c.id AND w.category = d.preference), d.preference <> 'tips')
                 AND NOT EXISTS (SELECT 1 FROM message_preference w
                                  WHERE w.customer_id = c.id AND w.category = d.topic AND NOT w.allowed))),
    capped AS (
      SELECT least(count(DISTINCT on_day), ${policy.cap.messages}::int) AS messages
        FROM told WHERE is_offer
       GROUP BY customer_id, (on_day - ${today}::date) / ${policy.cap.days}::int
      UNION ALL
      SELECT count(DISTINCT (customer_id, letter, on_day)) FROM told WHERE NOT is_offer),
    tonight AS (
      SELECT t.* FROM told t
       WHERE on_day = ${today}::date
         AND (NOT is_offer OR (SELECT count(*) FROM message m
               WHERE m.customer_id = t.customer_id AND m.category IN ('reminder', 'tips')
                 AND m.state IN ('planned', 'sending', 'sent')
                 AND coalesce(m.sent_at, m.send_after) > ${since(now, policy)}) < ${policy.cap.messages}))
    SELECT (SELECT count(*) FROM speaking WHERE moves AND speaks)::int AS moved,
           (SELECT count(*) FROM speaking WHERE id IS NULL AND speaks)::int AS opened,
           (SELECT count(*) FROM follow_up f WHERE f.closed_at IS NULL AND f.kind = ANY(${PLANNED_KINDS})
             AND f.kind <> 'surge-after-event'
             AND NOT EXISTS (SELECT 1 FROM speaking s WHERE s.id = f.id AND (s.speaks OR s.stands)))::int AS ended,
           (SELECT count(DISTINCT (customer_id, letter)) FROM tonight)::int AS "atOnce",
           (SELECT coalesce(sum(messages), 0) FROM capped)::int AS "thisMonth",
           (SELECT coalesce(json_agg(b ORDER BY b."followUps" DESC), '[]')
              FROM (SELECT kind, count(*)::int AS "followUps" FROM tonight GROUP BY kind) b) AS "byKind"`
  return row
}

const since = (now: Date, { cap }: Policy) => new Date(now.getTime() - cap.days * 86_400_000)
