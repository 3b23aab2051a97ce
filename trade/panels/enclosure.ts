import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, finding, sound, undetermined } from '../judging.ts'
import type { EquipmentRule, ReadingRule } from '../rule.ts'
import { SEVERITIES, type Severity, type Verdict } from '../verdict.ts'

const FIELDS = EQUIPMENT_FIELDS.panel

export type OpeningsInputs = Pick<DetailsOf<'panel'>, 'openings'>

/** Closed as well as the wall of the box. NFPA 70 408.7 and 110.12(A); what is open is open in any edition. */
export function judgeOpenings(inputs: OpeningsInputs): Verdict {
  const { openings } = inputs
  const basis: Basis = {
    rule: 'panels.openings',
    inputs: { ...inputs },
    references: [
      { code: 'NFPA 70', article: '408.7', row: 'breaker positions' },
      { code: 'NFPA 70', article: '110.12(A)', row: 'knockouts' },
    ],
    figures: openings == null ? [] : [{ label: FIELDS.openings.label, value: openings, unit: 'count' }],
  }
  if (openings == null) return undetermined(basis, [FIELDS.openings.label])
  if (openings === 0) {
    return sound(basis, {
      technician: 'No unused openings.',
      homeowner: 'The panel is closed all round.',
    })
  }
  return finding(basis, 'repair', {
    technician: `Unused openings not closed: ${openings}.`,
    homeowner: 'The panel has open holes through which fingers, insects or dust can reach live parts.',
  })
}

export const panelOpenings: EquipmentRule<'panel', OpeningsInputs> = {
  id: 'panels.openings',
  title: 'Unused openings',
  kind: 'panel',
  inputs: ({ details }) => ({ openings: details.openings }),
  judge: judgeOpenings,
}

export type ListedBreakersInputs = Pick<DetailsOf<'panel'>, 'breakersListedForPanel'>

/** A breaker that only happens to fit may not hold or trip as tested. NFPA 70 110.3(B). */
export function judgeListedBreakers(inputs: ListedBreakersInputs): Verdict {
  const basis: Basis = {
    rule: 'panels.listed-breakers',
    inputs: { ...inputs },
    references: [{ code: 'NFPA 70', article: '110.3(B)' }],
  }
  if (inputs.breakersListedForPanel == null) {
    return undetermined(basis, [FIELDS.breakersListedForPanel.label])
  }
  if (inputs.breakersListedForPanel) {
    return sound(basis, {
      technician: 'All breakers listed for this panel.',
      homeowner: 'All breakers are made for this panel.',
    })
  }
  return finding(basis, 'repair', {
    technician: 'Breakers not listed for this panel.',
    homeowner: 'Some breakers are not made for this panel and may not hold or trip as they should.',
  })
}

export const listedBreakers: EquipmentRule<'panel', ListedBreakersInputs> = {
  id: 'panels.listed-breakers',
  title: 'Breakers listed for the panel',
  kind: 'panel',
  inputs: ({ details }) => ({ breakersListedForPanel: details.breakersListedForPanel }),
  judge: judgeListedBreakers,
}

export type HeatInputs = Pick<DetailsOf<'panel'>, 'signsOfHeat'>

/** A joint that has run hot can burn today. Common practice, no source. */
export function judgeHeat(inputs: HeatInputs): Verdict {
  const basis: Basis = {
    rule: 'panels.heat',
    inputs: { ...inputs },
    references: [{ code: 'common practice', row: 'signs of heat' }],
  }
  if (inputs.signsOfHeat == null) return undetermined(basis, [FIELDS.signsOfHeat.label])
  if (!inputs.signsOfHeat) {
    return sound(basis, { technician: 'No signs of heat.', homeowner: 'Nothing in the panel has run hot.' })
  }
  return finding(basis, 'unsafe', {
    technician: 'Signs of heat in the panel: find the joint before the panel is used further.',
    homeowner: 'Something in the panel has run hot. It should be looked into at once.',
  })
}

export const panelHeat: EquipmentRule<'panel', HeatInputs> = {
  id: 'panels.heat',
  title: 'Signs of heat',
  kind: 'panel',
  inputs: ({ details }) => ({ signsOfHeat: details.signsOfHeat }),
  judge: judgeHeat,
}

/** What was seen of door and cover. */
export interface CoverReadings {
  doorWorks?: boolean
  coverSeated?: boolean
  bluntScrews?: boolean
}

/** Common practice, no source, but that live parts be covered: NFPA 70 110.27 (from memory). */
const COVER: Record<keyof CoverReadings, { label: string; severity: Severity; words: string }> = {
  coverSeated: { label: 'Cover seated', severity: 'repair', words: 'cover not seated' },
  bluntScrews: {
    label: 'All screws there and blunt',
    severity: 'repair',
    words: 'screws missing or pointed',
  },
  doorWorks: { label: 'Door works', severity: 'improve', words: 'door does not work' },
}

export function judgeCover(readings: CoverReadings): Verdict {
  const names = Object.keys(COVER) as (keyof CoverReadings)[]
  const basis: Basis = {
    rule: 'panels.cover',
    inputs: { ...readings },
    references: [
      { code: 'NFPA 70', article: '110.27' },
      { code: 'common practice', row: 'cover and screws' },
    ],
  }
  const faults = names.filter((name) => readings[name] === false)
  if (faults.length > 0) {
    const severity = SEVERITIES.find((each) => faults.some((name) => COVER[name].severity === each))!
    return finding(basis, severity, {
      technician: `Panel: ${faults.map((name) => COVER[name].words).join(', ')}.`,
      homeowner: 'The door or cover of the panel needs attention, so that nobody can touch live parts.',
    })
  }
  const missing = names.filter((name) => readings[name] == null).map((name) => COVER[name].label)
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: 'Door, cover and screws sound.',
    homeowner: 'Door and cover of the panel are in order.',
  })
}

export const panelCover: ReadingRule<CoverReadings, CoverReadings> = {
  id: 'panels.cover',
  title: 'Door, cover and screws',
  inputs: ({ doorWorks, coverSeated, bluntScrews }) => ({ doorWorks, coverSeated, bluntScrews }),
  judge: judgeCover,
}
