import { Page } from '../../shared/ui/page.tsx'

export function LoadWorksheet() {
  return <Page title="LoadWorksheet">{null}</Page>
}
