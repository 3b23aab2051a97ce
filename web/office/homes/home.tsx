import { Page } from '../../shared/ui/page.tsx'

export function Home() {
  return <Page title="Home">{null}</Page>
}
