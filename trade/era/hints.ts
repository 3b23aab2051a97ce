/** How sure the year of building makes it that a thing is there. Never certain: only looking tells. */
export type Confidence = 'likely' | 'possible'

/** Years in which homes were built or wired so, both included. */
export interface EraWindow {
  from: number
  to: number
  confidence: Confidence
}
export interface EraHint {
  id: string
  what: string
  /** Where to look and how to tell. */
  look: string
  /** Narrowest first: the first that holds the year decides. */
  windows: readonly EraWindow[]
  source: string
  /** Published windows differ. */
  disputed?: string
}

/** What homes of an age hide. Windows as published by home-inspection writers and the CPSC; they vary by decades. */
export const ERA_HINTS: readonly EraHint[] = [
  {
    id: 'knob-and-tube',
    what: 'Knob-and-tube wiring',
    look: 'Attic, basement ceiling and boxes: single conductors on porcelain, soldered splices, brittle cloth cover',
    windows: [
      { from: 1890, to: 1930, confidence: 'likely' },
      { from: 1880, to: 1949, confidence: 'possible' },
    ],
    source: 'home-inspection writers',
    disputed: '1890–1910, 1880–1930s and up to the 1940s are printed',
  },
  {
    id: 'early-armoured-cable',
    what: 'Early flexible armoured cable',
    look: 'Boxes and panel: armour without a bonding strip does not ground reliably',
    windows: [{ from: 1920, to: 1949, confidence: 'likely' }],
    source: 'home-inspection writers',
  },
  {
    id: 'cloth-cable',
    what: 'Cloth or rubber covered cable, two wires without ground',
    look: 'Panel and boxes: woven jacket, insulation that cracks when moved',
    windows: [{ from: 1930, to: 1969, confidence: 'likely' }],
    source: 'home-inspection writers; NM cable in NFPA 70 since 1926 or 1928 from memory',
  },
  {
    id: 'two-wire-circuits',
    what: 'Branch circuits without an equipment ground',
    look: 'Two-slot receptacles, three-slot ones with nothing behind the ground hole; until 1969 an undersized ground',
    windows: [
      { from: 1880, to: 1962, confidence: 'likely' },
      { from: 1963, to: 1969, confidence: 'possible' },
    ],
    source: 'UL history paper: equipment ground in all branch circuits since NFPA 70-1962',
  },
  {
    id: 'split-bus-panel',
    what: 'Split-bus panel without one main disconnect',
    look: 'Panel: several main throws; the unfused part stays live',
    windows: [{ from: 1950, to: 1985, confidence: 'possible' }],
    source: 'home-inspection writers',
    disputed: 'the end varies',
  },
  {
    id: 'aluminium-branch-wiring',
    what: 'Small aluminium branch wiring',
    look: 'Panel and boxes: silver-coloured solid conductors, cable marked AL or ALUMINUM; warm plates, flicker',
    windows: [
      { from: 1965, to: 1973, confidence: 'likely' },
      { from: 1974, to: 1976, confidence: 'possible' },
    ],
    source: 'CPSC release 2003 (1965–1973); CPSC 516, 2011 (to the mid-1970s)',
    disputed: 'last year: 1973 or mid-1970s',
  },
]

/** Breakers older than this are past their usual life; attributed to the CPSC. */
export const BREAKER_LIFE_YEARS = 40

/** Receptacles of the grounding type, by the edition that first asked for them. */
export const GROUNDED_SINCE: readonly { year: number; where: string; disputed?: string }[] = [
  { year: 1947, where: 'laundry' },
  { year: 1956, where: 'porches, garages and breezeways' },
  {
    year: 1974,
    where: 'all receptacles on 15 and 20 A circuits',
    disputed: 'NFPA 70-1971 from 1974, or NFPA 70-1975',
  },
]
