import { Page } from '../../shared/ui/page.tsx'
import { CompanySettings } from './company.tsx'
import { Jurisdictions } from './jurisdictions.tsx'

export function Settings() {
  return (
    <Page title="Settings" under="The company, and the codes in force where it works">
      <CompanySettings />
      <Jurisdictions />
    </Page>
  )
}
