import { Page } from '../../shared/ui/page.tsx'

export function Homes() {
  return <Page title="Homes">{null}</Page>
}
