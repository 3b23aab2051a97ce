import { cadenceText, readCadence } from '../../../trade/follow-ups/cadence-words.ts'
import { FOLLOW_UP_KINDS } from '../../../trade/follow-ups/kinds.ts'
import { FOLLOW_UP_KIND_IDS, type FollowUpKindId } from '../../../trade/follow-ups/kind.ts'
import {
  type CadenceId,
  cadenceOf,
  type Policy,
  type PolicyChanges,
} from '../../../trade/follow-ups/policy.ts'
import { SEVERITIES } from '../../../trade/verdict.ts'
import { SEVERITY_WORDS } from '../../shared/severity.tsx'

/** Every figure of the policy that the form shows: where it lies, what it is called, its unit. */
export const POLICY_GROUPS: readonly {
  title: string
  fields: readonly [path: string, label: string, help?: string][]
}[] = [
  {
    title: 'How often and when',
    fields: [
      ['cap.messages', 'Messages at most', 'Per household; visits and dangers are outside it'],
      ['cap.days', 'In so many days'],
      ['sendingHours.from', 'Not before'],
      ['sendingHours.to', 'And not after', 'Time of day at the home'],
      ['groupWithinDays', 'Days apart that share a message'],
      ['tipsMonths', 'Months between tips', '3: on the first of March, June, September and December'],
    ],
  },
  {
    title: 'Next inspection',
    fields: [
      ['reinspection.ownerYears', 'Years, lived in by the owner'],
      ['reinspection.rentedYears', 'Years, rented out'],
      ['reinspection.olderHomeYears', 'Years, older homes'],
      ['reinspection.olderHomeAge', 'A home is older from, in years'],
    ],
  },
  {
    title: 'Devices',
    fields: [
      [
        'batteryMonths',
        'Months between batteries',
        'From the last change; only for those who asked for tips',
      ],
      ['surge.checkMonths', 'Months between looks at a protector', 'From the last look at its indicator'],
      [
        'surge.lifeYears',
        'Years that a protector is planned for',
        'Where its maker says nothing; a look is due then at the latest',
      ],
      ['surge.afterEventDays', 'Days to look at a protector after a storm'],
    ],
  },
  {
    title: 'Findings, estimates, visits',
    fields: [
      ['finding.repairDays', 'Days to repair'],
      ['finding.investigateDays', 'Days to investigate'],
      ['finding.improveMonths', 'Months until an improvement is offered again'],
      ['finding.refusedRecheckDays', 'Days until a refused danger is asked about again'],
      ['makeSafeDays', 'Days until a make-safe is checked'],
      ['estimateDays', 'Days until an estimate is asked after'],
      ['noAccessDays', 'Days until no access is asked after'],
      [
        'finding.countFoundDay',
        'The day of a finding is the first of its days',
        'As in England’s 28 days for rented homes: found on the 1st, 28 days end on the 28th',
      ],
    ],
  },
]

/** Notices that the form shows: of each kind, and of findings for each severity. */
export const NOTICES = FOLLOW_UP_KIND_IDS.filter((id) => id !== 'visit-confirmation').flatMap(noticeFields)

function noticeFields(id: FollowUpKindId): { id: CadenceId; label: string; help: string }[] {
  const { office, concerns } = FOLLOW_UP_KINDS[id]
  if (id !== 'open-finding') return [{ id, label: office, help: concerns }]
  return SEVERITIES.map((severity) => ({
    id: `${id}/${severity}` as const,
    label: `${office}: ${SEVERITY_WORDS[severity].toLowerCase()}`,
    help: concerns,
  }))
}

/** What the form holds: every field as text, by its path; notices under `cadences.<kind>`; yes and no as `true`, `false`. */
export type PolicyForm = Readonly<Record<string, string>>

const at = (policy: object, path: string): unknown =>
  path.split('.').reduce<unknown>((part, name) => (part as Record<string, unknown>)[name], policy)

export function formOf(policy: Policy): PolicyForm {
  const figures = POLICY_GROUPS.flatMap(({ fields }) =>
    fields.map(([path]) => [path, String(at(policy, path))]),
  )
  const notices = NOTICES.map(({ id }) => [`cadences.${id}`, cadenceText(noticesOf(policy, id))])
  return Object.fromEntries([...figures, ...notices]) as PolicyForm
}

function noticesOf(policy: Policy, id: CadenceId) {
  const [kind, severity] = id.split('/') as ['open-finding', (typeof SEVERITIES)[number]?]
  return cadenceOf(policy, kind, severity ?? null)
}

/** Answered by yes or no. */
export const isYesNo = (text: string) => text === 'true' || text === 'false'

/** The form as changes over what the company had chosen already, or what is wrong, by path. */
export function changesOf(
  form: PolicyForm,
  policy: Policy,
  before: PolicyChanges,
): { changes: Record<string, unknown>; faults: Record<string, string> } {
  const was = formOf(policy)
  const changes = structuredClone(before) as Record<string, unknown>
  const faults: Record<string, string> = {}
  for (const [path, text] of Object.entries(form)) {
    if (text === was[path]) continue
    const [part, name] = path.split('.') as [string, string?]
    const inside = () => (changes[part] ??= {}) as Record<string, unknown>
    if (part === 'cadences') {
      const read = readCadence(text)
      if ('fault' in read) faults[path] = read.fault
      else inside()[name!] = read
    } else if (part === 'sendingHours') {
      changes[part] = { ...policy.sendingHours, ...(changes[part] as object), [name!]: text }
    } else if (isYesNo(text)) inside()[name!] = text === 'true'
    else if (!/^\d{1,4}$/.test(text.trim())) faults[path] = 'A whole number, please.'
    else if (name === undefined) changes[part] = Number(text)
    else inside()[name] = Number(text)
  }
  return { changes, faults }
}
