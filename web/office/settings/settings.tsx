import { Page } from '../../shared/ui/page.tsx'
import { CompanySettings } from './company.tsx'
import { FollowUpPolicy } from './follow-up-policy.tsx'
import { Jurisdictions } from './jurisdictions.tsx'

export function Settings() {
  return (
    <Page title="Settings" under="The company, its follow-ups, and the codes in force where it works">
      <CompanySettings />
      <FollowUpPolicy />
      <Jurisdictions />
    </Page>
  )
}
