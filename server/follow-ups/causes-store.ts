import { Prisma } from '../../prisma/generated/client.ts'
import { TURN_OF_SEASON } from '../../trade/follow-ups/kinds/self-test-tips.ts'
import type { Policy } from '../../trade/follow-ups/policy.ts'

// The due dates of trade/follow-ups/kinds, said once more in SQL so that a million homes need no visit each. A test
// holds the two against each other on homes made up at random.
//
// Every source gives: kind, subject_kind, subject_id, property_id, due_on, assumed, severity, label. A null due_on means
// that nothing is due.

/**
 * Which records are looked at: one home's; those that may have begun to speak by `until` (the latest day anywhere on
 * earth); or those that an open follow-up is about.
 */
export type Scope = { propertyId: string } | { until: Date } | 'open'

interface Given {
  policy: Policy
  now: Date
  scope: Scope
  /** Days before the due date on which the earliest notice of any kind may go out. */
  lead: number
  /** For a forecast under other intervals than the stored dates rest on: the checks are worked out anew. */
  hasOtherIntervals?: boolean
}

/** `AND …` for a source: by home, by a range that an index can walk, or by open follow-ups. */
function among(
  given: Given,
  home: Prisma.Sql,
  id: Prisma.Sql,
  range: (until: Prisma.Sql) => Prisma.Sql,
): Prisma.Sql {
  const { scope } = given
  // As a list, which is made once and looked up by index: as a join the planner, where nobody measured the tables, walks
  // through all that is open for each record.
  if (scope === 'open')
    return Prisma.sql`${id} = ANY(ARRAY(SELECT o.subject_id FROM follow_up o WHERE o.closed_at IS NULL))`
  if ('propertyId' in scope) return Prisma.sql`${home} = ${scope.propertyId}::uuid`
  return range(Prisma.sql`(${scope.until}::date + ${given.lead}::int)`)
}

/** One that shows a fault or nothing no longer protects: trade/follow-ups/equipment-dates.ts surgeHasFailed. */
const FAILED = Prisma.sql`(e.kind = 'surge-protector' AND coalesce(e.details->>'indicator', '') IN ('fault', 'dark'))`

/** Tips go only to those who asked for them. */
export const WANTS_TIPS = Prisma.sql`EXISTS (
  SELECT 1 FROM property_party pp JOIN message_preference mp ON mp.customer_id = pp.customer_id
   WHERE pp.property_id = e.property_id AND pp.is_contact AND pp.until IS NULL
     AND mp.category = 'tips' AND mp.allowed)`

const equipmentEnds = (given: Given) => Prisma.sql`
  SELECT CASE WHEN e.kind <> 'alarm' THEN 'surge-failed'
              WHEN e.replace_by_assumed AND e.manufactured_on IS NULL THEN 'alarm-undated'
              ELSE 'alarm-end-of-life' END AS kind,
         'equipment' AS subject_kind, e.id AS subject_id, e.property_id, e.replace_by AS due_on,
         e.replace_by_assumed AS assumed, '' AS severity, e.label
    FROM equipment e
   WHERE e.retired_on IS NULL AND e.replace_by IS NOT NULL AND (e.kind = 'alarm' OR ${FAILED})
     AND ${among(given, Prisma.sql`e.property_id`, Prisma.sql`e.id`, (until) => Prisma.sql`e.replace_by <= ${until}`)}`

/** trade/follow-ups/equipment-dates.ts: the battery of an alarm, and the next look at a protector. */
function nextCheck({ hasOtherIntervals, policy: { batteryMonths, surge } }: Given): Prisma.Sql {
  if (!hasOtherIntervals) return Prisma.sql`e.next_check_on`
  const after = (from: Prisma.Sql, months: number) =>
    Prisma.sql`(${from} + make_interval(months => ${months}::int))::date`
  const battery = after(
    Prisma.sql`coalesce((e.details->>'batteryChangedOn')::date, e.last_checked_on, e.installed_on)`,
    batteryMonths,
  )
  const look = after(Prisma.sql`coalesce(e.last_checked_on, e.installed_on)`, surge.checkMonths)
  const life = Prisma.sql`coalesce((e.details->>'lifeYears')::int, ${surge.lifeYears}::int)`
  const end = Prisma.sql`(coalesce(e.installed_on, e.manufactured_on) + make_interval(years => ${life}))::date`
  return Prisma.sql`CASE
    WHEN e.kind = 'alarm' THEN CASE
      WHEN e.details->>'power' IN ('battery', 'mains-and-battery') AND ${battery} < e.replace_by
       AND e.details->>'buttonTest' IS DISTINCT FROM 'silent' AND e.details->'endOfLifeSounding' IS DISTINCT FROM 'true'
      THEN ${battery} END
    WHEN coalesce(e.last_checked_on, e.installed_on) IS NULL THEN e.next_check_on
    WHEN e.last_checked_on >= ${end} THEN ${look}
    ELSE least(${look}, ${end}) END`
}

const equipmentChecks = (given: Given) => Prisma.sql`
  SELECT CASE e.kind WHEN 'alarm' THEN 'alarm-battery' ELSE 'surge-check' END, 'equipment', e.id, e.property_id,
         ${nextCheck(given)},
         CASE e.kind WHEN 'alarm' THEN e.details->>'batteryChangedOn' IS NULL ELSE e.last_checked_on IS NULL END,
         '', e.label
    FROM equipment e
   WHERE e.retired_on IS NULL AND ${nextCheck(given)} IS NOT NULL
     AND (e.kind = 'surge-protector' AND NOT ${FAILED} OR e.kind = 'alarm' AND ${WANTS_TIPS})
     AND ${among(given, Prisma.sql`e.property_id`, Prisma.sql`e.id`, (until) => Prisma.sql`${nextCheck(given)} <= ${until}`)}`

/** A check after a storm has no record but the follow-up itself: it stands until somebody looked, or the device went. */
const surgeEvents = (given: Given) => Prisma.sql`
  SELECT 'surge-after-event', 'equipment', e.id, e.property_id, o.due_on, false, '', e.label
    FROM follow_up o JOIN equipment e ON e.id = o.subject_id
   WHERE o.kind = 'surge-after-event' AND o.closed_at IS NULL AND e.retired_on IS NULL AND NOT ${FAILED}
     AND (e.last_checked_on IS NULL OR e.last_checked_on <= o.due_on - ${given.policy.surge.afterEventDays}::int)
     AND ${among(given, Prisma.sql`e.property_id`, Prisma.sql`e.id`, () => Prisma.sql`true`)}`

/** trade/follow-ups/words.ts withoutFullStop: it stands inside a sentence. */
const FINDING_LABEL = Prisma.sql`rtrim(btrim(f.text), '.')`

function findings(given: Given): Prisma.Sql {
  const { repairDays, investigateDays, improveMonths, refusedRecheckDays, countFoundDay } =
    given.policy.finding
  const first = countFoundDay ? 1 : 0
  const refusedOn = Prisma.sql`((f.refusal->>'at')::timestamptz AT TIME ZONE p.time_zone)::date`
  return Prisma.sql`
  SELECT 'open-finding', 'finding', f.id, f.property_id,
         CASE WHEN f.severity = 'unsafe'
                THEN CASE WHEN f.refusal IS NULL THEN f.found_on ELSE ${refusedOn} + ${refusedRecheckDays}::int END
              WHEN f.state NOT IN ('open', 'on-estimate') THEN NULL
              WHEN f.severity = 'repair' THEN f.found_on + ${repairDays - first}::int
              WHEN f.severity = 'investigate' THEN f.found_on + ${investigateDays - first}::int
              WHEN f.severity = 'improve' THEN (f.found_on + make_interval(months => ${improveMonths}::int))::date
              ELSE f.watch_until END,
         false, f.severity, ${FINDING_LABEL}
    FROM finding f JOIN property p ON p.id = f.property_id
   WHERE f.closed_on IS NULL AND f.state NOT IN ('checked', 'no-longer-applies')
     AND ${among(given, Prisma.sql`f.property_id`, Prisma.sql`f.id`, () => Prisma.sql`true`)}
  UNION ALL
  SELECT 'make-safe-check', 'finding', f.id, f.property_id, f.found_on + ${given.policy.makeSafeDays}::int, false,
         f.severity, ${FINDING_LABEL}
    FROM finding f
   WHERE f.closed_on IS NULL AND f.state NOT IN ('checked', 'no-longer-applies')
     AND f.severity = 'unsafe' AND f.refusal IS NULL
     AND ${among(given, Prisma.sql`f.property_id`, Prisma.sql`f.id`, () => Prisma.sql`true`)}`
}

const estimates = (given: Given) => Prisma.sql`
  SELECT 'estimate-unanswered', 'estimate', x.id, x.property_id,
         least((greatest(x.sent_at, q.asked_at) AT TIME ZONE p.time_zone)::date + ${given.policy.estimateDays}::int,
               x.expires_on), false, '', 'estimate ' || x.number
    FROM estimate x JOIN property p ON p.id = x.property_id
    LEFT JOIN LATERAL (SELECT max(a.at) AS asked_at FROM homeowner_answer a
                        WHERE a.property_id = x.property_id AND a.act = 'estimate-question'
                          AND a.said->>'estimateId' = x.id::text) q ON true
   WHERE x.state = 'sent' AND x.sent_at IS NOT NULL
     AND ${among(given, Prisma.sql`x.property_id`, Prisma.sql`x.id`, () => Prisma.sql`true`)}`

/** A visit booked or moved in the last days is fresh in the mind: trade/follow-ups/kinds/visit-reminder.ts. */
const visits = (given: Given) => Prisma.sql`
  SELECT 'visit-reminder', 'visit', v.id, v.property_id,
         CASE WHEN (v.starts_at AT TIME ZONE p.time_zone)::date
                 - ((CASE v.sequence WHEN 0 THEN v.created_at ELSE v.updated_at END) AT TIME ZONE p.time_zone)::date >= 3
              THEN (v.starts_at AT TIME ZONE p.time_zone)::date END,
         false, '', 'the visit'
    FROM visit v JOIN property p ON p.id = v.property_id
   WHERE v.state = 'booked'
     AND ${among(given, Prisma.sql`v.property_id`, Prisma.sql`v.id`, (until) => Prisma.sql`v.starts_at < ${until} + 1`)}
  UNION ALL
  SELECT 'no-access-rebooking', 'visit', v.id, v.property_id,
         (v.starts_at AT TIME ZONE p.time_zone)::date + ${given.policy.noAccessDays}::int, false, '', 'the visit'
    FROM visit v JOIN property p ON p.id = v.property_id
   WHERE v.state = 'no-access'
     AND NOT EXISTS (SELECT 1 FROM visit w WHERE w.property_id = v.property_id AND w.starts_at > v.starts_at
                      AND w.state IN ('booked', 'travelling', 'on-site', 'finished'))
     -- Whoever could not let us in and has sold the home since is not asked again.
     AND (p.sold_on IS NULL OR p.sold_on <= (v.starts_at AT TIME ZONE p.time_zone)::date)
     AND ${among(given, Prisma.sql`v.property_id`, Prisma.sql`v.id`, () => Prisma.sql`true`)}`

function inspections(given: Given): Prisma.Sql {
  const { ownerYears, rentedYears, olderHomeYears, olderHomeAge } = given.policy.reinspection
  const years = (count: Prisma.Sql) =>
    Prisma.sql`(p.last_inspected_on + make_interval(years => ${count}::int))::date`
  const tenureYears = Prisma.sql`CASE WHEN p.tenure = 'rented' THEN ${rentedYears}::int ELSE ${ownerYears}::int END`
  const shortest = Math.min(ownerYears, rentedYears, olderHomeYears)
  const sold = Prisma.sql`(p.sold_on IS NOT NULL AND (p.last_inspected_on IS NULL OR p.sold_on > p.last_inspected_on))`
  const older = Prisma.sql`greatest(${years(Prisma.sql`${olderHomeYears}`)}, make_date(p.year_built + ${olderHomeAge}::int, 1, 1))`
  return Prisma.sql`
  SELECT 're-inspection', 'home', p.id, p.id, d.due_on,
         NOT d.sold AND p.tenure IS NULL AND d.due_on = ${years(tenureYears)}, '', 'the home'
    FROM property p CROSS JOIN LATERAL (
      SELECT ${sold} AS sold,
             CASE WHEN ${sold} THEN p.sold_on
                  WHEN p.last_inspected_on IS NULL THEN NULL
                  WHEN p.year_built IS NULL THEN ${years(tenureYears)}
                  ELSE least(${years(tenureYears)}, ${older}) END AS due_on) d
   WHERE ${among(
     given,
     Prisma.sql`p.id`,
     Prisma.sql`p.id`,
     (until) => Prisma.sql`(p.sold_on <= ${until}
         OR p.last_inspected_on <= (${until} - make_interval(years => ${shortest}::int))::date)`,
   )}`
}

/** On the turn of the seasons, for those who had asked before: trade/follow-ups/kinds/self-test-tips.ts. */
function tips(given: Given): Prisma.Sql {
  const every = given.policy.tipsMonths
  const anchor = Prisma.sql`${TURN_OF_SEASON}::date`
  const month = (value: Prisma.Sql) =>
    Prisma.sql`(extract(year FROM ${value}) * 12 + extract(month FROM ${value}))::int`
  // The anchor is the first of its month, so that whole months are all that counts.
  const times = Prisma.sql`((${month(Prisma.sql`s.today`)} - ${month(anchor)}) / ${every}::int)`
  return Prisma.sql`
  SELECT 'self-test-tips', 'home', s.property_id, s.property_id, CASE WHEN n.turn > s.since THEN n.turn END, false, '',
         'the home'
    FROM (SELECT p.id AS property_id, (mp.changed_at AT TIME ZONE p.time_zone)::date AS since,
                 (${given.now}::timestamptz AT TIME ZONE p.time_zone)::date AS today
            FROM message_preference mp
            JOIN property_party pp ON pp.customer_id = mp.customer_id AND pp.is_contact AND pp.until IS NULL
            JOIN property p ON p.id = pp.property_id
           WHERE mp.category = 'tips' AND mp.allowed
             AND ${among(given, Prisma.sql`p.id`, Prisma.sql`p.id`, () => Prisma.sql`true`)}) s
   CROSS JOIN LATERAL (SELECT (${anchor} + make_interval(months => ${times} * ${every}::int))::date AS turn) n`
}

/** Every cause in the scope, in one list. */
export function causes(given: Given): Prisma.Sql {
  const sources = [
    equipmentEnds,
    equipmentChecks,
    surgeEvents,
    findings,
    estimates,
    visits,
    inspections,
    tips,
  ]
  return Prisma.join(
    sources.map((source) => source(given)),
    ' UNION ALL ',
  )
}
