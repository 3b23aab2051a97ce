import type { FollowUpKindId } from './kind.ts'

/** What reminders are about, as people choose among them on their page. A warning of a hazard is in none. */
export const TOPICS = {
  'about-alarms': ['alarm-end-of-life', 'alarm-undated', 'alarm-battery'],
  'about-surge': ['surge-check', 'surge-after-event', 'surge-failed'],
  'about-inspections': ['re-inspection'],
  'about-findings': ['open-finding'],
  'about-estimates': ['estimate-unanswered'],
} as const satisfies Record<string, readonly FollowUpKindId[]>
export type Topic = keyof typeof TOPICS
export const TOPIC_IDS = Object.keys(TOPICS) as Topic[]

const TOPIC_OF = new Map<FollowUpKindId, Topic>(
  TOPIC_IDS.flatMap((topic) => TOPICS[topic].map((kind) => [kind, topic] as const)),
)

/** Null for kinds that are nobody's choice: a visit, a hazard. */
export function topicOf(kind: FollowUpKindId): Topic | null {
  return TOPIC_OF.get(kind) ?? null
}
