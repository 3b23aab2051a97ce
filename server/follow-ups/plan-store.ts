import { Prisma } from '../../prisma/generated/client.ts'
import { type FollowUpKindId, STOP_CONDITIONS, type StopCondition } from '../../trade/follow-ups/kind.ts'
import { FOLLOW_UP_KINDS, restsWhileBooked } from '../../trade/follow-ups/kinds.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'
import { dayInWords } from '../../trade/day-in-words.ts'
import { day } from '../../trade/dates.ts'
import type { Db } from '../db.ts'
import { causes, type Scope, WANTS_TIPS } from './causes-store.ts'
import { PLANNED_AT, PLANNED_KINDS, rowOf } from './planned-kinds.ts'

export interface PlanRun {
  policy: Policy
  now: Date
  /** One home, or all. */
  propertyId?: string | undefined
  /** Of all homes one half or the other, whichever they fall into. */
  half?: 0 | 1
}

const SOME_DAY = day('2001-01-01')
const [LABEL, DATE] = ['\u0001', '\u0002']

/** Each kind with its sentence, with gaps for the facts. */
function kindTable(policy: Policy) {
  return PLANNED_AT.map(({ kind, severity }) => {
    const sentence = (assumed: boolean) =>
      FOLLOW_UP_KINDS[kind]
        .reason({ label: LABEL, dueOn: SOME_DAY, assumed, severity })
        .en.replaceAll(dayInWords(SOME_DAY, 'en'), DATE)
    return {
      ...rowOf({ kind, severity }, policy),
      sentence: sentence(false),
      sentence_assumed: sentence(true),
    }
  })
}

function given({ policy, now }: PlanRun, scope: Scope) {
  const lead = Math.max(0, ...kindTable(policy).map((each) => -each.opens))
  return { policy, now, scope, lead }
}

/** No zone is further ahead than this. */
const AHEAD_MS = 14 * 3_600_000

/**
 * Causes of what may be open or opened, and what is known of their kinds. Made once: a planner who knows the tables as
 * they were when they were empty would make them anew for each home.
 */
const known = (run: PlanRun, scope: Scope) => Prisma.sql`
  k AS (SELECT * FROM jsonb_to_recordset(${JSON.stringify(kindTable(run.policy))}::jsonb)
          AS k(kind text, severity text, preference text, topic text, opens int, sentence text,
               sentence_assumed text)),
  cause AS MATERIALIZED (${causes(given(run, scope))})`

const inHalf = ({ half }: PlanRun) =>
  half === undefined ? Prisma.empty : Prisma.sql`AND uuid_hash(c.property_id) & 1 = ${half}`

const speaking = (run: PlanRun, scope: Scope) => Prisma.sql`
  ${known(run, scope)},
  due AS (
    SELECT c.*, c.due_on + k.opens AS opens_on, k.preference, k.topic,
           replace(replace(CASE WHEN c.assumed THEN k.sentence_assumed ELSE k.sentence END, ${LABEL}, c.label),
                   ${DATE}, to_char(c.due_on, 'FMMonth FMDD, YYYY')) AS reason
      FROM cause c JOIN k ON k.kind = c.kind AND k.severity = c.severity JOIN property p ON p.id = c.property_id
     WHERE p.archived_at IS NULL AND c.due_on + k.opens <= (${run.now}::timestamptz AT TIME ZONE p.time_zone)::date
       ${inHalf(run)})`

const kindsWhere = (wanted: (kind: FollowUpKindId) => boolean) => PLANNED_KINDS.filter(wanted)

/** Of a cause `d`: whoever said no to such mail and wants it again is told again. What they have not spoken on stands as categories.ts has it. */
export const IS_WELCOME = Prisma.sql`coalesce((
  SELECT mp.allowed FROM property_party pp JOIN message_preference mp ON mp.customer_id = pp.customer_id
   WHERE pp.property_id = d.property_id AND pp.is_contact AND pp.until IS NULL AND mp.category = d.preference),
  d.preference <> 'tips') AND NOT EXISTS (
  SELECT 1 FROM property_party pp JOIN message_preference mp ON mp.customer_id = pp.customer_id
   WHERE pp.property_id = d.property_id AND pp.is_contact AND pp.until IS NULL AND mp.category = d.topic
     AND NOT mp.allowed)`

const because = (condition: StopCondition) => Prisma.sql`${STOP_CONDITIONS[condition]}`

/**
 * For each kind, subject and due date what ended follow-ups said last, and whether only because the person wants none, or
 * only because a policy put it off, which may come back to the day.
 */
export const ENDED = Prisma.sql`
  SELECT kind, subject_id, due_on, (array_agg(last_step ORDER BY closed_at DESC))[1] AS last_step,
         bool_and(closed_reason IN (${because('opted-out')}, ${because('put-off')}))
           AND bool_or(closed_reason = ${because('opted-out')}) AS is_refusal,
         bool_and(closed_reason = ${because('put-off')}) AS is_put_off`

/** What is due, in the terms of what is on record. */
const THIS = Prisma.sql`(d.kind, d.subject_id, d.due_on)`

/**
 * Opens what has begun to speak, and moves what is open to its new due date, where its notices begin anew. What was
 * ended for a due date is not opened for that date again.
 * @returns how many were opened or moved
 */
export function openDue(db: Db, run: PlanRun): Promise<number> {
  const scope = run.propertyId
    ? { propertyId: run.propertyId }
    : { until: new Date(run.now.getTime() + AHEAD_MS) }
  const steadfast = kindsWhere((kind) => FOLLOW_UP_KINDS[kind].keepsFirstDueOn)
  // In one order everywhere, so that two planners never wait for each other in a ring.
  // What is there already is read before the first is written: asked for one by one, the planner, who knows the table as
  // it was, may walk through all that this very statement has written. And it is asked for by (NOT) IN, whose list is made
  // once and hashed: as a join the planner, who expects one row of it, walks through all of it for each that is due.
  return db.$executeRaw`
    WITH ${speaking(run, scope)},
    known AS MATERIALIZED (
      SELECT f.kind, f.subject_id, f.due_on, f.closed_at, f.closed_reason, f.last_step
        FROM follow_up f WHERE f.subject_id IN (SELECT d.subject_id FROM due d)),
    ended AS MATERIALIZED (
      ${ENDED} FROM known WHERE closed_at IS NOT NULL GROUP BY 1, 2, 3)
    INSERT INTO follow_up (id, property_id, kind, subject_kind, subject_id, equipment_id, finding_id, visit_id, estimate_id,
                           due_on, assumed, reason, state, last_step, next_notice_on, created_at, updated_at)
    SELECT uuid_v7(${run.now}::timestamptz), d.property_id, d.kind, d.subject_kind, d.subject_id,
           CASE d.subject_kind WHEN 'equipment' THEN d.subject_id END, CASE d.subject_kind WHEN 'finding' THEN d.subject_id END,
           CASE d.subject_kind WHEN 'visit' THEN d.subject_id END, CASE d.subject_kind WHEN 'estimate' THEN d.subject_id END,
           -- Opened again after a refusal or a policy that put it off: what was said before is not said twice.
           d.due_on, d.assumed, d.reason, 'planned',
           CASE WHEN ${THIS} IN (SELECT kind, subject_id, due_on FROM ended)
             THEN (SELECT e.last_step FROM ended e WHERE (e.kind, e.subject_id, e.due_on) = ${THIS}) END,
           d.opens_on, ${run.now}::timestamptz, ${run.now}::timestamptz
      FROM due d
     WHERE (${THIS} NOT IN (SELECT kind, subject_id, due_on FROM ended)
            OR ${THIS} IN (SELECT kind, subject_id, due_on FROM ended WHERE is_put_off)
            OR ${THIS} IN (SELECT kind, subject_id, due_on FROM ended WHERE is_refusal) AND ${IS_WELCOME})
       AND ${THIS} NOT IN (SELECT kind, subject_id, due_on FROM known WHERE closed_at IS NULL)
       AND NOT (d.kind = ANY(${steadfast})
                AND (d.kind, d.subject_id) IN (SELECT kind, subject_id FROM known WHERE closed_at IS NULL))
     ORDER BY d.kind, d.subject_id
    ON CONFLICT (kind, subject_id) WHERE closed_at IS NULL DO UPDATE
      SET due_on = excluded.due_on, assumed = excluded.assumed, reason = excluded.reason, last_step = NULL,
          next_notice_on = excluded.next_notice_on, snoozed_until = NULL,
          state = CASE WHEN follow_up.state = 'told' THEN 'planned' ELSE follow_up.state END,
          version = follow_up.version + 1, updated_at = excluded.updated_at
      WHERE follow_up.due_on <> excluded.due_on AND NOT follow_up.kind = ANY(${steadfast})`
}

/** What ended it, as far as its record tells. */
const ENDING = Prisma.sql`CASE
  WHEN f.kind IN ('alarm-end-of-life', 'alarm-undated', 'alarm-battery', 'surge-check', 'surge-failed', 'surge-after-event')
    THEN CASE WHEN e.replaced_by_id IS NOT NULL THEN ${because('replaced')}
              WHEN e.retired_on IS NOT NULL THEN ${because('retired')}
              WHEN f.kind = 'alarm-undated' THEN ${because('date-read')}
              WHEN f.kind = 'alarm-battery' AND NOT ${WANTS_TIPS} THEN ${because('opted-out')}
              WHEN f.kind = 'alarm-battery' THEN ${because('battery-changed')}
              ELSE ${because('checked')} END
  WHEN f.subject_kind = 'finding' THEN CASE
    WHEN n.state = 'declined' OR n.refusal IS NOT NULL THEN ${because('declined')}
    WHEN n.state IN ('accepted', 'booked') THEN ${because('accepted')}
    WHEN n.state IN ('corrected', 'checked') THEN ${because('corrected-and-checked')}
    ELSE ${because('no-longer-applies')} END
  WHEN f.kind = 'estimate-unanswered' THEN ${because('answered')}
  WHEN f.kind = 'visit-reminder' THEN ${because('held')}
  WHEN f.kind = 'no-access-rebooking'
    THEN CASE WHEN EXISTS (SELECT 1 FROM property p JOIN visit v ON v.id = f.subject_id
                            WHERE p.id = f.property_id
                              AND p.sold_on > (v.starts_at AT TIME ZONE p.time_zone)::date)
              THEN ${because('moved-away')} ELSE ${because('rebooked')} END
  WHEN f.kind = 're-inspection' THEN ${because('inspected')}
  WHEN f.kind = 'self-test-tips' THEN ${because('opted-out')}
  ELSE ${because('no-longer-applies')} END`

/** Its cause is there, with another date, since the policy was changed and nothing at the home that could have moved it was. */
const IS_PUT_OFF = Prisma.sql`coalesce(f.created_at < (
    SELECT max(a.at) FROM audit_entry a WHERE a.subject_kind = 'company' AND a.action = 'policy.change'), false)
  AND (f.kind, f.subject_id) IN (SELECT c.kind, c.subject_id FROM cause c WHERE c.due_on IS NOT NULL)
  AND EXISTS (
    SELECT 1 FROM property p
     WHERE p.id = f.property_id AND p.archived_at IS NULL
       AND (f.created_at AT TIME ZONE p.time_zone)::date > greatest(
             e.last_checked_on, (e.details->>'batteryChangedOn')::date, e.installed_on,
             ((n.refusal->>'at')::timestamptz AT TIME ZONE p.time_zone)::date,
             CASE f.kind WHEN 're-inspection' THEN greatest(p.last_inspected_on, p.sold_on) END,
             '-infinity'::date))`

/**
 * Ends what has no cause any more. By a policy that speaks later than the one before, what was opened for the same day
 * stays open and waits: ended, it would not be opened for that day again.
 * @returns how many
 */
export function closeEnded(db: Db, run: PlanRun): Promise<number> {
  const scope: Scope = run.propertyId ? { propertyId: run.propertyId } : 'open'
  const mine = run.propertyId ? Prisma.sql`AND f.property_id = ${run.propertyId}::uuid` : Prisma.empty
  // NOT IN, whose list is made once and hashed: as a join the planner, who expects one row of it, makes it once per row.
  return db.$executeRaw`
    WITH ${known(run, scope)},
    standing AS (
      SELECT c.kind, c.subject_id
        FROM cause c JOIN k ON k.kind = c.kind AND k.severity = c.severity JOIN property p ON p.id = c.property_id
        LEFT JOIN follow_up o ON o.kind = c.kind AND o.subject_id = c.subject_id AND o.closed_at IS NULL
       WHERE p.archived_at IS NULL
         AND (c.due_on = o.due_on OR c.due_on + k.opens <= (${run.now}::timestamptz AT TIME ZONE p.time_zone)::date)),
    ending AS MATERIALIZED (
      SELECT f.id, o.is_put_off, CASE WHEN o.is_put_off THEN ${because('put-off')} ELSE ${ENDING} END AS why
        FROM follow_up f LEFT JOIN equipment e ON e.id = f.equipment_id LEFT JOIN finding n ON n.id = f.finding_id
       CROSS JOIN LATERAL (SELECT ${IS_PUT_OFF} AS is_put_off) o
       WHERE f.closed_at IS NULL AND f.kind = ANY(${PLANNED_KINDS}) ${mine}
         AND (f.kind, f.subject_id) NOT IN (SELECT s.kind, s.subject_id FROM standing s))
    UPDATE follow_up f
       -- Nobody has done anything where only the policy put it off: it is no answer.
       SET state = CASE WHEN w.is_put_off THEN 'dismissed' ELSE 'done' END, closed_at = ${run.now}::timestamptz,
           closed_reason = w.why, next_notice_on = NULL, version = f.version + 1, updated_at = ${run.now}::timestamptz
      FROM ending w
     WHERE w.id = f.id`
}

/**
 * While somebody is on their way to a home, what would offer work there rests as `booked`; when the visit is over or
 * called off and the cause is still there, it speaks again.
 */
export async function restWhileBooked(db: Db, run: PlanRun): Promise<void> {
  const resting = kindsWhere(restsWhileBooked)
  const mine = run.propertyId ? Prisma.sql`AND f.property_id = ${run.propertyId}::uuid` : Prisma.empty
  const live = Prisma.sql`SELECT v.id FROM visit v WHERE v.property_id = f.property_id
    AND v.state IN ('booked', 'travelling', 'on-site') ORDER BY v.starts_at LIMIT 1`
  const danger = Prisma.sql`(SELECT n.severity = 'unsafe' FROM finding n WHERE n.id = f.finding_id)`
  await db.$executeRaw`
    UPDATE follow_up f
       SET state = 'booked', visit_id = (${live}), version = f.version + 1, updated_at = ${run.now}::timestamptz
     WHERE f.closed_at IS NULL AND f.state IN ('planned', 'told', 'asked') AND f.kind = ANY(${resting})
       AND ${danger} IS NOT TRUE AND EXISTS (${live}) ${mine}`
  await db.$executeRaw`
    UPDATE follow_up f
       SET state = CASE WHEN EXISTS (SELECT 1 FROM visit_request r WHERE r.id = f.request_id AND r.state = 'waiting')
                        THEN 'asked' WHEN f.last_step IS NULL THEN 'planned' ELSE 'told' END,
           visit_id = NULL, version = f.version + 1, updated_at = ${run.now}::timestamptz
     WHERE f.closed_at IS NULL AND f.subject_kind <> 'visit' ${mine}
       AND (f.state = 'booked' AND NOT EXISTS (${live})
            OR f.state = 'asked' AND EXISTS (SELECT 1 FROM visit_request r
                                              WHERE r.id = f.request_id AND r.state = 'withdrawn'))`
}
