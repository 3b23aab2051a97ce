import { Page } from '../../shared/ui/page.tsx'

export function Message() {
  return <Page title="Message">{null}</Page>
}
