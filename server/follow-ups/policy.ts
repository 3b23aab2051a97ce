import { type Policy, type PolicyChanges, policyWith } from '../../trade/follow-ups/policy.ts'
import type { Db } from '../db.ts'
import { findCompany } from '../settings/store.ts'

/** The company's own choices over the defaults of the trade; before it is set up, when nothing is due yet, the defaults. */
export async function getPolicy(db: Db): Promise<Policy> {
  return policyOf((await findCompany(db)) ?? { policy: {} })
}

export function policyOf(company: { policy: unknown }): Policy {
  return policyWith(company.policy as PolicyChanges)
}
