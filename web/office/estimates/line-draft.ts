import type { LineBody, LineView } from '../../../server/estimates/schema.ts'
import type { PriceView } from '../../../server/prices/schema.ts'
import {
  readMoney,
  readPercent,
  readQuantity,
  typedMoney,
  typedPercent,
  typedQuantity,
} from '../../../trade/estimates/money.ts'
import { newId } from '../../shared/ids.ts'

/** A line while it is typed: figures as text, until they can be read. */
export interface LineDraft extends Pick<LineView, 'id' | 'finding' | 'priceItem' | 'option' | 'description'> {
  quantity: string
  price: string
  tax: string
}

export const draftOf = (line: LineView): LineDraft => ({
  id: line.id,
  finding: line.finding,
  priceItem: line.priceItem,
  option: line.option,
  description: line.description,
  quantity: typedQuantity(line.quantityThousandths),
  price: typedMoney(line.priceCents),
  tax: typedPercent(line.taxBasisPoints),
})

const empty = (): LineDraft => ({
  id: newId(),
  finding: null,
  priceItem: null,
  option: '',
  description: '',
  quantity: '1',
  price: '',
  tax: '0',
})

export const freeLine = (given: Partial<LineDraft> = {}): LineDraft => ({ ...empty(), ...given })

export const pricedLine = ({ id, code, unit, name, priceCents, taxBasisPoints }: PriceView): LineDraft => ({
  ...empty(),
  priceItem: { id, code, unit },
  description: name,
  price: typedMoney(priceCents),
  tax: typedPercent(taxBasisPoints),
})

/** What cannot be read in it, by field. */
export interface LineFaults {
  description?: string
  quantity?: string
  price?: string
  tax?: string
}

export function faultsOf({ description, quantity, price, tax }: LineDraft): LineFaults {
  return {
    ...(description.trim() === '' && { description: 'Say what is done.' }),
    ...(readQuantity(quantity) === null && { quantity: 'Type a number, such as 1 or 2.5.' }),
    ...(readMoney(price) === null && { price: 'Type dollars and cents, such as 145.00.' }),
    ...(readPercent(tax) === null && { tax: 'Type per cent, such as 8.25; nothing is 0.' }),
  }
}

/** As it is sent and reckoned; null while something in it cannot be read. */
export function bodyOf(line: LineDraft): LineBody | null {
  const quantityThousandths = readQuantity(line.quantity)
  const [priceCents, taxBasisPoints] = [readMoney(line.price), readPercent(line.tax)]
  if (quantityThousandths === null || priceCents === null || taxBasisPoints === null) return null
  return {
    id: line.id,
    findingId: line.finding?.id ?? null,
    priceItemId: line.priceItem?.id ?? null,
    option: line.option.trim(),
    description: line.description.trim(),
    quantityThousandths,
    priceCents,
    taxBasisPoints,
  }
}

/** One place up or down. */
export function moved<Item>(items: readonly Item[], from: number, by: -1 | 1): Item[] {
  const to = from + by
  if (to < 0 || to >= items.length) return [...items]
  const next = [...items]
  ;[next[from], next[to]] = [next[to]!, next[from]!]
  return next
}
