import { Page } from '../../shared/ui/page.tsx'

export function Messages() {
  return <Page title="Messages">{null}</Page>
}
