import { onTestFinished } from 'vitest'
import { freePort } from '../../../scripts/services/ports.ts'
import { systemCtx } from '../../../server/ctx.ts'
import { buildVisit } from '../../build/inspection.ts'
import { buildProperty } from '../../build/property.ts'
import { startCompany, zoneAtNoon } from '../../setup/company.ts'
import { Phone } from '../../setup/phone.ts'
import { startSignal } from '../../setup/signal.ts'
import { KESTREL_ROW } from '../../../prisma/seed/company.ts'

export const TECHNICIAN = 'technician@example.com'

/**
 * A company with one technician, reached over a signal that can go away.
 * @param options.webDir built pages of one's own, to put another build in their place
 */
export async function startFieldCompany(options: { webDir?: string } = {}) {
  const signal = await startSignal(await freePort())
  const company = await startCompany({ signal, ...options })
  const { db, base, url } = company
  const ctx = systemCtx(base)
  const timeZone = zoneAtNoon()
  await db.company.create({ data: { ...KESTREL_ROW, timeZone } })
  const technicianId = await company.person('technician', TECHNICIAN, 'Cal Dunmore')

  /** A small home with a visit that begins now. */
  const visitAt = async (line1: string) => {
    const property = await buildProperty(ctx, {
      line1,
      timeZone,
      yearBuilt: 1978,
      levels: 1,
      fuels: ['electric'],
      hasGasPiping: false,
      garage: 'none',
      spaces: [
        { kind: 'hall', name: 'Hall' },
        { kind: 'kitchen', name: 'Kitchen' },
      ],
    })
    return buildVisit(ctx, technicianId, property, { startsAt: nextSlot() })
  }
  /** For the test that asks for it: those of tests gone by would go on asking the office. */
  const phone = () => {
    const made = new Phone()
    onTestFinished(() => made.throwAway())
    return made
  }
  return { ...company, url, signal, visitAt, phone }
}

let slots = 0
/** Visits of one technician may not overlap. */
const nextSlot = () => new Date(Date.now() + slots++ * 3_600_000)
