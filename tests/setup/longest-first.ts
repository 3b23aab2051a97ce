import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** Those that took longest in CI. Begun last, any of them would be waited for by an idle core. */
const LONG = [
  'browser/screens',
  'browser/field-look',
  'browser/offline-trouble',
  'browser/offline-windows',
  'browser/main-job',
  'faults/schedules-too',
  'faults/schedules',
  'api/homeowner-pages',
  'build/processes',
]

/** Within a project the longest first, then as vitest has them: the larger file first. */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files)
    const projects = new Set(sorted.map(({ project }) => project))
    return [...projects].flatMap((project) =>
      sorted.filter((file) => file.project === project).sort((a, b) => placeOf(a) - placeOf(b)),
    )
  }
}

function placeOf({ moduleId }: TestSpecification): number {
  const place = LONG.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`))
  return place < 0 ? LONG.length : place
}
