import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { BREAKS, broken } from './schedules/breaks.ts'
import { playHalf } from './schedules/play-all.ts'

await playHalf(0)

test.each(Object.entries(BREAKS))('the fault “%s” can still be put into the product', (_name, { edits }) => {
  for (const { file } of edits) expect(broken(readFileSync(file, 'utf8'), file, edits)).toBeTypeOf('string')
})
