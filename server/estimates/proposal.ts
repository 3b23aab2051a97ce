import { findItem } from '../../trade/checklist/checklist.ts'
import type { Db } from '../db.ts'
import { newId } from '../ids.ts'
import { listCorrecting } from '../prices/store.ts'
import { shortened } from '../shortened.ts'
import type { OfferableFinding } from './findings-store.ts'
import type { LineBody } from './schema.ts'

/**
 * For each finding the prices that usually correct such a one; where there is none, what the technician said is to be
 * done, or else what of the installation it is about, without a price.
 */
export async function proposeLines(db: Db, findings: readonly OfferableFinding[]): Promise<LineBody[]> {
  const prices = await listCorrecting(
    db,
    findings.map(({ itemId }) => itemId),
  )
  return findings.flatMap((finding): LineBody[] => {
    const line = { findingId: finding.id, option: '', quantityThousandths: 1000 }
    const fitting = prices.filter(({ correctsItems }) => correctsItems.includes(finding.itemId))
    if (fitting.length === 0) {
      const title = findItem(finding.itemId)?.title ?? finding.text
      const description = shortened(finding.correction || `Work on: ${title}`, 490)
      return [{ id: newId(), ...line, priceItemId: null, description, priceCents: 0, taxBasisPoints: 0 }]
    }
    return fitting.map(({ id, name, priceCents, taxBasisPoints }) => ({
      id: newId(),
      ...line,
      priceItemId: id,
      description: name,
      priceCents,
      taxBasisPoints,
    }))
  })
}
