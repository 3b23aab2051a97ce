import type { Edition } from '../editions.ts'

/**
 * Alarm rules stand in the International Residential Code and in NFPA 72, but what a jurisdiction records is its edition
 * of NFPA 70. Each IRC carries the electrical code of the year before (IRC 2018 with NFPA 70-2017), and NFPA 72 appears
 * in the year before NFPA 70, so the editions are taken together. From memory; a place that adopts them apart enters its
 * differences as local amendments.
 */
export function ircOf(edition: Edition): string | null {
  const year = Number(edition) + 1
  return year >= 2000 ? String(year) : null
}

/** Years on the cover of NFPA 72 since it took in the household chapter, oldest first. From memory. */
const NFPA_72_EDITIONS = [1993, 1996, 1999, 2002, 2007, 2010, 2013, 2016, 2019, 2022, 2025]

export function nfpa72Of(edition: Edition): string | null {
  const year = NFPA_72_EDITIONS.findLast((each) => each < Number(edition))
  return year === undefined ? null : String(year)
}
