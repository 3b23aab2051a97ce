import type { ConductorSize } from '../conductors/sizes.ts'
import type { Edition } from '../editions.ts'
import { type Basis, finding, tidy } from '../judging.ts'
import type { FindingVerdict, Severity } from '../verdict.ts'
import { type ProtectedRun, type Protection, protectionBounds } from './protection.ts'
import { exceedsInsulation, standardRatingUpTo } from './standard-ratings.ts'

/** Thinnest conductor with an ampacity of its own in every column. */
const THINNEST_LISTED = { copper: '14', aluminium: '12', 'copper-clad': '12' } as const

/**
 * Wire that can burn is unsafe, whichever of the editions governs. Of a conductor that the table leaves out, the
 * thinnest listed one is the measure.
 */
export function burns(run: ProtectedRun, editions: readonly Edition[]): boolean {
  return editions.every((edition) => {
    const { most } = protectionBounds(run, [edition])
    const thinnest = { ...run, size: THINNEST_LISTED[run.material] }
    const measure = most.run.tableAmps > 0 ? most : protectionBounds(thinnest, [edition]).most
    return exceedsInsulation(run.deviceAmps, measure.run.insulationAmps, edition)
  })
}

/**
 * A conductor that no printing has is looked at, unless even the thinnest that one of them has would be overfused:
 * 14 AWG copper-clad has no ampacity, and since 2023 a device.
 */
function gravityOutsideTable(run: ProtectedRun, editions: readonly Edition[]): Severity {
  if (burns(run, editions)) return 'unsafe'
  const atMostWith = (size: ConductorSize) => protectionBounds({ ...run, size }, editions).most.permittedAmps
  const permittedAmps = atMostWith('14') || atMostWith('12')
  return run.deviceAmps <= permittedAmps ? 'investigate' : 'repair'
}

/** The device is larger than the conductor allows, read at its best: how grave that is, and the words for it. */
export function overfused(
  basis: Basis,
  run: ProtectedRun,
  most: Protection,
  { subject, device }: { subject: string; device: string },
  { editionWhenBuilt, editions }: { editionWhenBuilt: Edition | null; editions: readonly Edition[] },
): FindingVerdict {
  if (most.run.ambientFactor === 0) {
    return finding(basis, 'repair', {
      technician: `${subject}: ${run.ambientC} °C is hotter than its insulation is rated for.`,
      homeowner: 'This wire runs through a place that is too hot for it; its covering will age early.',
    })
  }
  if (most.permittedAmps === 0) {
    return finding(basis, gravityOutsideTable(run, editions), {
      technician: `${subject}: the table has no such conductor; check size and material (tinned copper?).`,
      homeowner: 'This wire is of a kind that is not used for house wiring; we need to look closer at it.',
    })
  }
  const technician = `${subject}: ${atMost(most)} A at most`
  if (burns(run, editions)) {
    return finding(basis, 'unsafe', {
      technician: `${technician}; ${insulationBears(most)}.`,
      homeowner: `This ${device} lets more current through than the wire can bear: it can overheat before the ${device} switches off.`,
    })
  }
  const built = editionWhenBuilt && protectionBounds(run, [editionWhenBuilt]).least
  if (built && run.deviceAmps <= built.permittedAmps) {
    return finding(basis, 'improve', {
      technician: `${technician} would be required in new work; ${atMost(built)} A was allowed when built.`,
      homeowner: `This ${device} was right when it was put in. In new work a smaller one is used for such a wire.`,
    })
  }
  return finding(basis, 'repair', {
    technician: `${technician}.`,
    homeowner: `This ${device} is larger than its wire allows, so the wire could run hot before the ${device} switches off. A smaller one, or a thicker wire, puts it right.`,
  })
}

function insulationBears({ run }: Protection): string {
  return run.tableAmps > 0
    ? `more than the insulation itself bears (${tidy(run.insulationAmps)} A)`
    : 'more than even the thinnest listed conductor bears'
}

/** The largest standard rating that is permitted. */
export function atMost({ permittedAmps, edition }: Protection): number {
  return standardRatingUpTo(permittedAmps, edition) ?? Number(tidy(permittedAmps))
}
