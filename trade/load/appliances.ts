import type { Edition } from '../editions.ts'
import { valueIn } from '../requirement.ts'
import { cookingDemand } from './cooking.ts'
import {
  DRYER_SHARES,
  FIXED_APPLIANCES,
  loadArticle,
  type LoadArticle,
  SMALLEST_DRYER_VA,
  SMALLEST_FIXED_APPLIANCE_VA,
  SMALLEST_VEHICLE_VA,
} from './factors.ts'
import type { LoadInputs, NameplateLoad } from './inputs.ts'
import { sumVA } from './inputs.ts'
import { grouped, percent, shareOf, type WorksheetLine } from './worksheet.ts'

/** Lines of one kind of equipment, and its volt-amperes in the total. Null where the edition's tables do not reach. */
export interface Demand {
  lines: WorksheetLine[]
  va: number
}

/** The nameplates as they stand. */
export function nameplates(
  section: string,
  loads: readonly NameplateLoad[],
  article: LoadArticle,
  edition: Edition,
  counted = false,
): WorksheetLine[] {
  return loads.map((load) => ({
    section,
    label: load.name,
    basis: 'nameplate',
    va: load.va ?? 0,
    article: loadArticle(article, edition),
    counted,
  }))
}

/** Ranges, ovens and cooktops by Table 220.55. */
export function cooking({ cooking: loads }: LoadInputs, edition: Edition): Demand | null {
  if (loads.length === 0) return NONE
  const section = 'Cooking'
  const demand = cookingDemand(loads.map((load) => load.va ?? 0))
  if (!demand) return null
  const article = loadArticle('cooking', edition)
  return {
    lines: [
      ...nameplates(section, loads, 'cooking', edition),
      { section, label: 'Demand', basis: demand.basis, va: demand.va, article, counted: true },
    ],
    va: demand.va,
  }
}

/** Electric clothes dryers: 5,000 VA or the nameplate, whichever is larger. */
export function dryers({ dryers: loads }: LoadInputs, edition: Edition): Demand | null {
  if (loads.length === 0) return NONE
  const section = 'Clothes drying'
  const share = DRYER_SHARES[loads.length - 1]
  if (share === undefined) return null
  const counted = loads.map((load) => Math.max(load.va ?? 0, SMALLEST_DRYER_VA))
  const connected = counted.reduce((sum, va) => sum + va, 0)
  const article = loadArticle('dryer', edition)
  const lines: WorksheetLine[] = loads.map((load, index) => ({
    section,
    label: load.name,
    basis: `nameplate, ${grouped(SMALLEST_DRYER_VA)} VA at least`,
    va: counted[index]!,
    article,
    counted: false,
  }))
  lines.push({
    section,
    label: 'Demand',
    basis: `${percent(share)} of ${grouped(connected)} VA`,
    va: shareOf(connected, share),
    article,
    counted: true,
  })
  return { lines, va: shareOf(connected, share) }
}

/** Appliances fastened in place: 75 % from four on. `shareFor` tells what a single one counts for. */
export function fixedAppliances(
  { appliances }: LoadInputs,
  edition: Edition,
): Demand & { shareFor: (load: NameplateLoad) => number } {
  const least = valueIn(SMALLEST_FIXED_APPLIANCE_VA, edition) ?? 0
  const isLargeEnough = (load: NameplateLoad) => (load.va ?? 0) >= least
  const large = appliances.filter(isLargeEnough)
  const share = large.length >= FIXED_APPLIANCES.from ? FIXED_APPLIANCES.share : 1
  const shareFor = (load: NameplateLoad) => (isLargeEnough(load) ? share : 1)
  const largeVA = sumVA(large)
  const va = shareOf(largeVA, share) + (sumVA(appliances) - largeVA)
  if (appliances.length === 0) return { ...NONE, shareFor }
  const section = 'Fixed appliances'
  return {
    lines: [
      ...nameplates(section, appliances, 'fixed', edition),
      {
        section,
        label: 'Demand',
        basis:
          share < 1
            ? `${large.length} appliances: ${percent(share)} of ${grouped(largeVA)} VA`
            : `fewer than ${FIXED_APPLIANCES.from}: nameplates`,
        va,
        article: loadArticle('fixed', edition),
        counted: true,
      },
    ],
    va,
    shareFor,
  }
}

/** Lines of vehicle charging in the standard method. Null where the edition's figure is not known. */
export function vehicles({ vehicles: loads }: LoadInputs, edition: Edition): WorksheetLine[] | null {
  const least = loads.length === 0 ? 0 : valueIn(SMALLEST_VEHICLE_VA, edition)
  if (least === null) return null
  return nameplates('Vehicle charging', loads, 'vehicle', edition, true).map((line) => ({
    ...line,
    basis: least > 0 ? `nameplate, ${grouped(least)} VA at least` : 'nameplate',
    va: Math.max(line.va, least),
  }))
}

const NONE: Demand = { lines: [], va: 0 }
