import type { RuleContext } from '../editions.ts'
import { type DetailsOf, EQUIPMENT_FIELDS } from '../equipment.ts'
import { onClocks, sound, tidy, undetermined } from '../judging.ts'
import { editionRead } from '../nec.ts'
import { clocksOf, NEWEST_EDITION, valueIn } from '../requirement.ts'
import type { EquipmentRule } from '../rule.ts'
import type { Verdict } from '../verdict.ts'
import { alarmShortfall } from './shortfall.ts'
import { HEAT_WALL_BAND, MOUNTING_RULE, PEAK_BAND, SMOKE_WALL_BAND, type WallBand } from './siting-figures.ts'

export type MountingInputs = Pick<
  DetailsOf<'alarm'>,
  'senses' | 'mounted' | 'belowCeilingInches' | 'peakInches'
>

/** Smoke gathers under the ceiling. An alarm on a flat ceiling is always right; a CO alarm hangs where its maker says. */
export function judgeMounting(inputs: MountingInputs, context: RuleContext): Verdict {
  const { senses, mounted, belowCeilingInches, peakInches } = inputs
  const basis = onClocks(
    { rule: 'alarms.mounting', inputs: { ...inputs }, figures: [] },
    clocksOf(MOUNTING_RULE, context),
  )
  const fields = EQUIPMENT_FIELDS.alarm
  const fits = (technician: string) =>
    sound(basis, { technician, homeowner: 'This alarm hangs where it notices trouble early.' })
  if (!senses) return undetermined(basis, [fields.senses.label])
  if (senses === 'co') return fits('A CO alarm may hang wherever its maker allows.')
  if (!mounted) return undetermined(basis, [fields.mounted.label])
  if (mounted === 'ceiling') return fits('On the ceiling.')
  const isWall = mounted === 'wall'
  const inches = isWall ? belowCeilingInches : peakInches
  if (inches === undefined) {
    return undetermined(basis, [isWall ? fields.belowCeilingInches.label : fields.peakInches.label])
  }
  const edition = editionRead(context) ?? NEWEST_EDITION
  const wall = senses === 'heat' ? HEAT_WALL_BAND : valueIn(SMOKE_WALL_BAND, edition)!
  const band: WallBand = isWall ? wall : PEAK_BAND
  const what = `${tidy(inches)} in ${isWall ? 'below the ceiling' : 'from the peak'}`
  basis.figures!.push(
    { label: 'Nearest', value: band.from, unit: 'in' },
    { label: 'Farthest', value: band.to, unit: 'in' },
  )
  if (inches >= band.from && inches <= band.to)
    return fits(`${what}, between ${band.from} and ${band.to} in.`)
  return alarmShortfall(basis, context, {
    technician: `${what}, ${band.from} to ${band.to} in wanted`,
    homeowner: 'This alarm hangs where smoke or heat reaches it late.',
  })
}

export const mounting: EquipmentRule<'alarm', MountingInputs> = {
  id: 'alarms.mounting',
  title: 'Height and place on wall or ceiling',
  kind: 'alarm',
  inputs: ({ details: { senses, mounted, belowCeilingInches, peakInches } }) => ({
    senses,
    mounted,
    belowCeilingInches,
    peakInches,
  }),
  judge: judgeMounting,
}
