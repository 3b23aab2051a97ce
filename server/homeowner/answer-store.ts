import type { Prisma } from '../../prisma/generated/client.ts'
import type { Db } from '../db.ts'
import type { Act } from './acts.ts'

/** What they said, with what follows from it where they are told so: days as `YYYY-MM-DD`. */
export interface Said {
  /** What the page thanks for. */
  thanks: string
  label?: string
  /** A device's date of manufacture, and until when it serves. */
  manufacturedOn?: string
  replaceBy?: string | null
  kind?: string
  on?: string
  indicator?: 'good' | 'dark'
  by?: string
  until?: string
  name?: string
  reason?: string
  why?: 'sold' | 'moved' | 'never'
  address?: string
  isDanger?: boolean
  /** Of an estimate: which, for how much, and what they want to know. */
  estimateId?: string
  number?: number
  total?: string
  question?: string
  /** A visit is still booked at the home that they have left. */
  isVisitBooked?: boolean
}

/** How things stood, so that it can be taken back. */
export interface Before {
  snoozedUntil?: string | null
  nextNoticeOn?: string | null
  roles?: { role: string; isContact: boolean }[]
}

/** What they say about an estimate. */
export type EstimateAct = 'estimate-accepted' | 'estimate-declined' | 'estimate-question'

export interface StoredAnswer {
  id: string
  linkId: string
  customerId: string
  propertyId: string
  followUpId: string | null
  act: Act | EstimateAct | 'not-mine'
  said: Said
  before: Before
  at: Date
  takenBackAt: Date | null
  checkedAt: Date | null
}

/** @returns false when that very answer has been taken already */
export async function insertAnswer(
  db: Db,
  answer: Omit<StoredAnswer, 'takenBackAt' | 'checkedAt'>,
): Promise<boolean> {
  const { said, before, ...plain } = answer
  const data = { ...plain, said: json(said), before: json(before) }
  const { count } = await db.homeownerAnswer.createMany({ data, skipDuplicates: true })
  return count === 1
}

const json = (value: Said | Before) => value as Prisma.InputJsonObject

export async function findAnswer(db: Db, id: string, customerId: string): Promise<StoredAnswer | null> {
  const row = await db.homeownerAnswer.findFirst({ where: { id, customerId } })
  return row as StoredAnswer | null
}

/** @returns false when it has been taken back before, or the office has looked at it meanwhile */
export async function setTakenBack(db: Db, id: string, now: Date): Promise<boolean> {
  const { count } = await db.homeownerAnswer.updateMany({
    where: { id, takenBackAt: null, checkedAt: null },
    data: { takenBackAt: now },
  })
  return count === 1
}

/** Homes that somebody said they have left since a day, and may still take back. */
export async function listLeft(db: Db, customerId: string, propertyId: string | null, since: Date) {
  const rows = await db.homeownerAnswer.findMany({
    where: {
      customerId,
      ...(propertyId && { propertyId }),
      act: 'not-mine',
      takenBackAt: null,
      checkedAt: null,
      at: { gt: since },
    },
    orderBy: { at: 'desc' },
    take: 20,
  })
  return rows as unknown as StoredAnswer[]
}
