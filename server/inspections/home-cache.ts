import type { Db } from '../db.ts'
import { getHome, type HomeRecord } from './home-store.ts'

/** Homes read once for many writes that come together; forgotten when one of them changes a home. */
export interface HomeCache {
  get: (db: Db, propertyId: string) => Promise<HomeRecord>
  forget: () => void
}

export function homeCache(): HomeCache {
  const homes = new Map<string, HomeRecord>()
  return {
    get: async (db, propertyId) => {
      const known = homes.get(propertyId)
      if (known) return known
      const home = await getHome(db, propertyId)
      homes.set(propertyId, home)
      return home
    },
    forget: () => homes.clear(),
  }
}
