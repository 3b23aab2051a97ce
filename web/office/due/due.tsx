import { Page } from '../../shared/ui/page.tsx'

export function Due() {
  return <Page title="Due">{null}</Page>
}
