import { type ConductorMaterial, type ConductorSize, sizeRank } from '../conductors/sizes.ts'

/** Copper, or aluminium; copper-clad aluminium stands in the aluminium columns. */
export type Metal = 'copper' | 'aluminium'

export function metalOf(material: ConductorMaterial): Metal {
  return material === 'copper' ? 'copper' : 'aluminium'
}

type ByMetal = Readonly<Record<Metal, ConductorSize>>

export interface ServiceRow {
  /** Largest ungrounded service conductor of the row; null = every larger one. Areas up to 1750 kcmil. */
  upTo: Readonly<Record<Metal, ConductorSize | '1100' | '1750'>> | null
  conductor: ByMetal
}

/**
 * Grounding electrode conductor by the largest ungrounded service conductor. NFPA 70 Table 250.66, the same in every
 * edition since 1999 (Table 250-94 before: from memory). Aluminium of the first row goes to 1/0: one widely copied
 * table prints 1, which is a misprint.
 */
export const ELECTRODE_CONDUCTORS: readonly ServiceRow[] = [
  { upTo: { copper: '2', aluminium: '1/0' }, conductor: { copper: '8', aluminium: '6' } },
  { upTo: { copper: '1/0', aluminium: '3/0' }, conductor: { copper: '6', aluminium: '4' } },
  { upTo: { copper: '3/0', aluminium: '250' }, conductor: { copper: '4', aluminium: '2' } },
  { upTo: { copper: '350', aluminium: '500' }, conductor: { copper: '2', aluminium: '1/0' } },
  { upTo: { copper: '600', aluminium: '900' }, conductor: { copper: '1/0', aluminium: '3/0' } },
  { upTo: { copper: '1100', aluminium: '1750' }, conductor: { copper: '2/0', aluminium: '4/0' } },
  { upTo: null, conductor: { copper: '3/0', aluminium: '250' } },
]

/** One conductor per phase, as in homes: the row is found by size alone. */
export function serviceRow(material: ConductorMaterial, size: ConductorSize): ServiceRow {
  const metal = metalOf(material)
  return ELECTRODE_CONDUCTORS.find((row) => row.upTo === null || reaches(row.upTo[metal], size))!
}

function reaches(limit: ConductorSize | '1100' | '1750', size: ConductorSize): boolean {
  return limit === '1100' || limit === '1750' || sizeRank(size) <= sizeRank(limit)
}

export type ElectrodeKind = 'rod' | 'pipe' | 'plate' | 'concrete-encased' | 'water-pipe' | 'ring'

/**
 * Largest conductor ever needed to an electrode when it goes there and no further. NFPA 70 250.66(A) and (B); the
 * ring's 2 AWG, the least size of the ring itself, 250.66(C), and the aluminium figures other than the rod's are from
 * memory. A water pipe has no cap.
 */
export const CAPS: Readonly<Partial<Record<ElectrodeKind, { conductor: ByMetal; article: string }>>> = {
  rod: { conductor: { copper: '6', aluminium: '4' }, article: '250.66(A)' },
  pipe: { conductor: { copper: '6', aluminium: '4' }, article: '250.66(A)' },
  plate: { conductor: { copper: '6', aluminium: '4' }, article: '250.66(A)' },
  'concrete-encased': { conductor: { copper: '4', aluminium: '2' }, article: '250.66(B)' },
  ring: { conductor: { copper: '2', aluminium: '1/0' }, article: '250.66(C)' },
}

export interface WantedConductor {
  size: ConductorSize
  article: string
  /** The table row or cap that decided, in words. */
  row: string
}

/** Size wanted of a grounding electrode conductor of that metal. `soleTo` = it ends at an electrode of that kind. */
export function electrodeConductorFor(
  service: { material: ConductorMaterial; size: ConductorSize },
  material: ConductorMaterial,
  soleTo: ElectrodeKind | null = null,
): WantedConductor {
  const metal = metalOf(material)
  const row = serviceRow(service.material, service.size)
  const size = row.conductor[metal]
  const cap = soleTo ? CAPS[soleTo] : undefined
  if (cap && sizeRank(cap.conductor[metal]) < sizeRank(size)) {
    return { size: cap.conductor[metal], article: cap.article, row: `ends at a ${soleTo}: never larger` }
  }
  return { size, article: 'Table 250.66', row: describeRow(row, metalOf(service.material)) }
}

function describeRow(row: ServiceRow, serviceMetal: Metal): string {
  return row.upTo
    ? `service conductors up to ${row.upTo[serviceMetal]} ${serviceMetal}`
    : `service conductors above the table`
}
