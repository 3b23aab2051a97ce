import { Page } from '../../shared/ui/page.tsx'

export function Today() {
  return <Page title="Today">{null}</Page>
}
