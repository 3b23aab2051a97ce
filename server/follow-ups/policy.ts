import { type Policy, type PolicyChanges, policyWith } from '../../trade/follow-ups/policy.ts'
import type { Db } from '../db.ts'
import { getCompany } from '../settings/store.ts'

/** The company's own choices over the defaults of the trade. */
export async function getPolicy(db: Db): Promise<Policy> {
  return policyOf(await getCompany(db))
}

export function policyOf(company: { policy: unknown }): Policy {
  return policyWith(company.policy as PolicyChanges)
}
