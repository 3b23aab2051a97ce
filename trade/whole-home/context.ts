import { type Day, dayOf } from '../dates.ts'
import { type Adoption, type Amendment, type Edition, editionInForce, type RuleContext } from '../editions.ts'
import type { Equipment } from '../equipment.ts'
import type { Property } from '../property.ts'

/** Who has authority over the wiring of a home, and what they put in force when. */
export interface Jurisdiction {
  name: string
  adoptions: readonly Adoption[]
  amendments: readonly Amendment[]
  /** Decides how a date with slashes is read on a label. */
  isUs: boolean
}

/** With only a year known, what was in force when it began: the edition of the same year had not been adopted yet. */
function editionAtStartOf(year: number | null, jurisdiction: Jurisdiction): Edition | null {
  if (year === null || !Number.isInteger(year) || year < 1 || year > 9999) return null
  return editionInForce(jurisdiction.adoptions, dayOf(year, 1, 1))
}

/**
 * The edition that a part was built under: by the day it was installed, else by the year of the home. When the wiring
 * was altered later under another edition, nobody can tell which parts were touched: null.
 */
export function editionWhenBuilt(
  jurisdiction: Jurisdiction,
  property: Pick<Property, 'yearBuilt' | 'yearAltered'>,
  installedOn: Day | null = null,
): Edition | null {
  if (installedOn) return editionInForce(jurisdiction.adoptions, installedOn)
  const built = editionAtStartOf(property.yearBuilt, jurisdiction)
  if (property.yearAltered === null) return built
  return editionAtStartOf(property.yearAltered, jurisdiction) === built ? built : null
}

/** What rules may know of time and place, for the parts of one home on one day. */
export interface Contexts {
  /** For spaces and for the home as a whole. */
  ofHome: RuleContext
  of: (equipment: Pick<Equipment, 'installedOn'>) => RuleContext
}

type SharedContexts = Map<Edition | null, RuleContext>

/** Of each jurisdiction, the contexts of the last day asked for: what rules derived from a context is kept with it. */
const lastAsked = new WeakMap<Jurisdiction, { today: Day; shared: SharedContexts }>()

function sharedContexts(jurisdiction: Jurisdiction, today: Day): SharedContexts {
  const last = lastAsked.get(jurisdiction)
  if (last?.today === today) return last.shared
  const shared: SharedContexts = new Map()
  lastAsked.set(jurisdiction, { today, shared })
  return shared
}

/**
 * Parts built under the same edition share one context, in every home of a jurisdiction. A jurisdiction is a value: to
 * change it is to make a new one.
 */
export function contextsFor(property: Property, jurisdiction: Jurisdiction, today: Day): Contexts {
  const editionNow = editionInForce(jurisdiction.adoptions, today)
  const shared = sharedContexts(jurisdiction, today)
  const under = (edition: Edition | null): RuleContext => {
    let context = shared.get(edition)
    if (!context) {
      const { amendments } = jurisdiction
      context = { today, editionNow, editionWhenBuilt: edition, amendments }
      shared.set(edition, context)
    }
    return context
  }
  const ofHome = under(editionWhenBuilt(jurisdiction, property))
  const of: Contexts['of'] = ({ installedOn }) =>
    installedOn ? under(editionWhenBuilt(jurisdiction, property, installedOn)) : ofHome
  return { ofHome, of }
}
