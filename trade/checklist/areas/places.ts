import { SPACE_KINDS, type SpaceKind } from '../../property.ts'

const ALL = Object.keys(SPACE_KINDS) as SpaceKind[]

const WITHOUT_OUTLETS: readonly SpaceKind[] = ['closet', 'stairs', 'crawl-space', 'attic-unfinished']
/** Places that usually have receptacles and switches to sample. */
export const PLACES_WITH_OUTLETS = ALL.filter((kind) => !WITHOUT_OUTLETS.includes(kind))

const NOT_WALKED_IN: readonly SpaceKind[] = ['closet', 'crawl-space', 'attic-unfinished']
/** Places where people walk, work or read: they need light. */
export const PLACES_TO_LIGHT = ALL.filter((kind) => !NOT_WALKED_IN.includes(kind))
