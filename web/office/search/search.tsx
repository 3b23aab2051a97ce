import { Page } from '../../shared/ui/page.tsx'

export function Search() {
  return <Page title="Search">{null}</Page>
}
