import { expect, test } from 'vitest'
import { makeSafeCheck } from '../../../trade/follow-ups/kinds/make-safe-check.ts'
import { openFinding } from '../../../trade/follow-ups/kinds/open-finding.ts'

const about = { label: 'Water piping bond absent.', severity: 'repair' } as const

test('a sentence that quotes a finding ends once', () => {
  const reasons = [openFinding, makeSafeCheck].map((kind) => kind.reason(about as never))
  for (const { en, es } of reasons) {
    expect(en).toContain('Water piping bond absent. ')
    expect(en + es).not.toContain('..')
  }
})
