import { expect } from 'vitest'
import { day } from '../../../trade/dates.ts'
import type { Amendment, Edition, RuleContext } from '../../../trade/editions.ts'
import type { Equipment, EquipmentKind, EquipmentOf } from '../../../trade/equipment.ts'
import type { Home } from '../../../trade/home.ts'
import type { Verdict } from '../../../trade/verdict.ts'

/** Editions in force now and when built, on a day of 2026. */
export function under(
  editionNow: Edition | null,
  editionWhenBuilt: Edition | null = null,
  amendments: Amendment[] = [],
): RuleContext {
  return { today: day('2026-03-02'), editionNow, editionWhenBuilt, amendments }
}

/** Plain enough to store: what JSON keeps as it is. */
function isPlain(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value)
  if (value === null || ['string', 'boolean', 'undefined'].includes(typeof value)) return true
  if (Array.isArray(value)) return value.every(isPlain)
  return Object.getPrototypeOf(value) === Object.prototype && Object.values(value as object).every(isPlain)
}

function faultsOf(verdict: Verdict): string[] {
  const { technician, homeowner, references, figures } = verdict
  const missing = verdict.outcome === 'undetermined' ? verdict.missing : null
  const faults: [boolean, string][] = [
    [!/^[A-Z0-9].{8,}\.$/.test(technician), `no sentence for the technician: ${technician}`],
    [!/^[A-Z].{20,}[.]$/.test(homeowner), `no sentence for the homeowner: ${homeowner}`],
    [/ampacity|AWG|NFPA|violation|conductor/i.test(homeowner), `jargon: ${homeowner}`],
    [
      /undefined|null|NaN|violation|\.\./.test(technician + homeowner),
      `nonsense: ${technician} ${homeowner}`,
    ],
    [missing !== null && !missing.some(Boolean), 'nothing named that is missing'],
    [missing?.some((word) => !/\w{3}/.test(word)) ?? false, `unclear what is missing: ${missing?.join()}`],
    [references.some(({ code }) => !/\w/.test(code)), 'a reference to nothing'],
    [figures.some(({ label }) => !/\w{3}/.test(label)), 'a figure without a name'],
    [!isPlain(verdict), 'cannot be stored'],
  ]
  return faults.flatMap(([isFault, words]) => (isFault ? [words] : []))
}

/** A verdict that reads well: whole sentences, no jargon for the homeowner, and plain enough to store. */
export function spoken<V extends Verdict>(verdict: V): V {
  expect(faultsOf(verdict)).toEqual([])
  return verdict
}

export function articles(verdict: Verdict): (string | undefined)[] {
  return verdict.references.map((reference) => reference.article)
}

export function figure(verdict: Verdict, label: string): number | undefined {
  return verdict.figures.find((each) => each.label === label)?.value
}

export function item<Kind extends EquipmentKind>(
  id: string,
  kind: Kind,
  details: EquipmentOf<Kind>['details'],
  more: Partial<Equipment> = {},
): EquipmentOf<Kind> {
  return {
    id,
    kind,
    label: id,
    spaceId: null,
    parentId: null,
    details,
    manufacturedOn: null,
    installedOn: null,
    retiredOn: null,
    ...more,
  } as EquipmentOf<Kind>
}

export function homeOf(...equipment: Equipment[]): Home {
  return {
    property: {
      yearBuilt: null,
      yearAltered: null,
      levels: null,
      areaSqFt: null,
      fuels: null,
      hasGasPiping: null,
      garage: null,
      garageOpensIntoHome: null,
      tenure: null,
      lastInspectedOn: null,
      soldOn: null,
    },
    spaces: [],
    equipment,
  }
}
