import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { type Basis, missingOf, onClocks, shortfall, sound, tidy, undetermined } from '../judging.ts'
import { clocksOf, type Requirement } from '../requirement.ts'
import type { EquipmentRule, ReadingRule } from '../rule.ts'
import type { Figure, Verdict } from '../verdict.ts'

/** Clear space before the panel, up to 150 V to ground. NFPA 70 110.26(A); the same in IRC 2018 E3405. */
export const WORKING_DEPTH_INCHES = 36
export const WORKING_WIDTH_INCHES = 30
export const WORKING_HEIGHT_INCHES = 78

/** The figures are today's; since when each held was not looked up. 110.26 was 110-16 before 1999 (from memory). */
export const WORKING_SPACE: Requirement = {
  keys: ['panels.working-space'],
  rows: [
    { since: '1999', required: true, article: '110.26(A)', source: 'NFPA 70 110.26(A); IRC 2018 E3405' },
  ],
  before: 'unknown',
}

export type WorkingSpaceInputs = Pick<
  DetailsOf<'panel'>,
  'widthInches' | 'workingWidthInches' | 'workingDepthInches' | 'workingHeightInches' | 'doorOpensFully'
>

const FIELDS = EQUIPMENT_FIELDS.panel

/** At least 30 in wide, and as wide as the panel where that is more; it need not be centred. */
export function leastWorkingWidth(panelWidthInches: number): number {
  return Math.max(WORKING_WIDTH_INCHES, panelWidthInches)
}

interface Measure {
  label: string
  is?: number
  least: number
}

function measuresOf(inputs: WorkingSpaceInputs): Measure[] {
  return [
    {
      label: FIELDS.workingWidthInches.label,
      is: inputs.workingWidthInches,
      least: leastWorkingWidth(inputs.widthInches ?? 0),
    },
    { label: FIELDS.workingDepthInches.label, is: inputs.workingDepthInches, least: WORKING_DEPTH_INCHES },
    { label: FIELDS.workingHeightInches.label, is: inputs.workingHeightInches, least: WORKING_HEIGHT_INCHES },
  ]
}

export function judgeWorkingSpace(
  inputs: WorkingSpaceInputs,
  context: RuleContext,
  rule = 'panels.working-space',
): Verdict {
  const measures = measuresOf(inputs)
  const basis: Basis = onClocks(
    { rule, inputs: { ...inputs }, figures: measures.flatMap(figuresOf) },
    clocksOf(WORKING_SPACE, context),
  )
  const short = measures.filter(({ is, least }) => is != null && is < least)
  const faults = [
    ...short.map(
      ({ label, is, least }) => `${label.toLowerCase()} ${tidy(is!)} in, ${tidy(least)} in wanted`,
    ),
    ...(inputs.doorOpensFully === false ? ['the door does not open 90°'] : []),
  ]
  if (faults.length > 0) {
    return shortfall(basis, context, {
      technician: `Working space: ${faults.join('; ')}`,
      homeowner: 'There is too little free space to work safely. Keeping it clear helps in an emergency.',
    })
  }
  const missing = missingOf(FIELDS, inputs, [
    'widthInches',
    'workingWidthInches',
    'workingDepthInches',
    'workingHeightInches',
    'doorOpensFully',
  ])
  if (missing.length > 0) return undetermined(basis, missing)
  return sound(basis, {
    technician: `Working space ${measures.map(({ is }) => tidy(is!)).join(' × ')} in; door opens 90°.`,
    homeowner: 'There is enough free space to work safely.',
  })
}

function figuresOf({ label, is, least }: Measure): Figure[] {
  return is == null
    ? []
    : [
        { label, value: is, unit: 'in' },
        { label: `${label}, at least`, value: least, unit: 'in' },
      ]
}

export const workingSpace: EquipmentRule<'panel', WorkingSpaceInputs> = {
  id: 'panels.working-space',
  title: 'Working space before the panel',
  kind: 'panel',
  inputs: ({ details }) => ({
    widthInches: details.widthInches,
    workingWidthInches: details.workingWidthInches,
    workingDepthInches: details.workingDepthInches,
    workingHeightInches: details.workingHeightInches,
    doorOpensFully: details.doorOpensFully,
  }),
  judge: (inputs, context) => judgeWorkingSpace(inputs, context),
}

/** Readings at an equipment disconnect, whose box is always narrower than the least width. */
export interface ClearSpaceReadings {
  clearDepthInches?: number
  clearWidthInches?: number
  clearHeightInches?: number
}
export const disconnectClearSpace: ReadingRule<ClearSpaceReadings, WorkingSpaceInputs> = {
  id: 'disconnects.clear-space',
  title: 'Clear space before the disconnect',
  inputs: ({ clearDepthInches, clearWidthInches, clearHeightInches }) => ({
    widthInches: 0,
    workingWidthInches: clearWidthInches,
    workingDepthInches: clearDepthInches,
    workingHeightInches: clearHeightInches,
    doorOpensFully: true,
  }),
  judge: (inputs, context) => judgeWorkingSpace(inputs, context, 'disconnects.clear-space'),
}
