import { Page } from '../../shared/ui/page.tsx'

export function Inspection() {
  return <Page title="Inspection">{null}</Page>
}
