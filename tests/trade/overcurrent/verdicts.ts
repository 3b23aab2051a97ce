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

/** A verdict that reads well: whole sentences, no jargon for the homeowner, and plain enough to store. */
export function spoken<V extends Verdict>(verdict: V): V {
  expect(verdict.technician).toMatch(/^[A-Z0-9].{8,}\.$/)
  expect(verdict.homeowner).toMatch(/^[A-Z].{20,}[.]$/)
  expect(verdict.homeowner).not.toMatch(/ampacity|AWG|NFPA|violation|conductor/i)
  for (const sentence of [verdict.technician, verdict.homeowner]) {
    expect(sentence).not.toMatch(/undefined|null|NaN|violation|\.\./)
  }
  if (verdict.outcome === 'undetermined') {
    expect(verdict.missing.length).toBeGreaterThan(0)
    for (const word of verdict.missing) expect(word).toMatch(/\w{3}/)
  }
  for (const reference of verdict.references) expect(reference.code).toMatch(/\w/)
  for (const figure of verdict.figures) {
    expect(figure.label).toMatch(/\w{3}/)
    expect(Number.isFinite(figure.value)).toBe(true)
  }
  expect(JSON.parse(JSON.stringify(verdict))).toEqual(verdict)
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
