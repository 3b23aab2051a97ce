import { Page } from '../../shared/ui/page.tsx'

export function Customer() {
  return <Page title="Customer">{null}</Page>
}
