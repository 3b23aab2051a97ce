import { Link } from '@tanstack/react-router'
import { buttonLink } from '../../shared/ui/button.tsx'
import { Card, Page } from '../../shared/ui/page.tsx'
import { CompanySettings } from './company.tsx'
import { FollowUpPolicy } from './follow-up-policy.tsx'
import { Jurisdictions } from './jurisdictions.tsx'

export function Settings() {
  return (
    <Page
      title="Settings"
      under="The company, its follow-ups and letters, and the codes in force where it works"
    >
      <CompanySettings />
      <FollowUpPolicy />
      <Card
        title="Wording of letters"
        actions={
          <Link to="/settings/wording" className={buttonLink}>
            Read and change the letters
          </Link>
        }
      >
        <p>Every letter in both languages: how it looks, in whose words, and every version there was.</p>
      </Card>
      <Jurisdictions />
    </Page>
  )
}
