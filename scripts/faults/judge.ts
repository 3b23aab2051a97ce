import type { PrismaClient } from '../../prisma/generated/client.ts'
import type { Taken } from '../mail-sink/sink.ts'

export interface Verdict {
  /** Due things that no letter told of. */
  missed: number
  /** Second copies that should not be: the first was heard to be taken, or the second tells of it under another name. */
  duplicates: number
  /** Second copies with the same Message-ID where the connection died before the answer to the first was heard. */
  duplicatesWithSameMessageId: number
}

/** What arrived, against what was due. */
export async function judge(
  db: PrismaClient,
  taken: readonly Taken[],
  say: (line: string) => void,
): Promise<Verdict> {
  const copies = new Map<string, Taken[]>()
  for (const each of taken) copies.set(each.messageId, [...(copies.get(each.messageId) ?? []), each])
  const told = await db.$queryRaw<{ headers: string[] }[]>`
    SELECT array_remove(array_agg(DISTINCT m.message_id_header), NULL) AS headers
      FROM equipment e LEFT JOIN follow_up f ON f.equipment_id = e.id
      LEFT JOIN message_follow_up l ON l.follow_up_id = f.id LEFT JOIN message m ON m.id = l.message_id
     GROUP BY e.id`
  const verdict: Verdict = { missed: 0, duplicates: 0, duplicatesWithSameMessageId: 0 }
  for (const { headers } of told) {
    const arrived = headers.filter((header) => copies.has(header)).length
    if (arrived === 0) {
      verdict.missed++
      say(`missed: ${await fateOf(db, headers)}`)
    }
    verdict.duplicates += Math.max(0, arrived - 1)
  }
  for (const [, letters] of copies) {
    for (const earlier of letters.slice(0, -1)) {
      if (earlier.heard) {
        verdict.duplicates++
        say(`twice, the first heard: ${await fateOf(db, [earlier.messageId])}`)
      } else verdict.duplicatesWithSameMessageId++
    }
  }
  return verdict
}

/** What became of the messages that should have told of something: where to begin to look. */
async function fateOf(db: PrismaClient, headers: readonly string[]): Promise<string> {
  const messages = await db.message.findMany({
    where: { messageIdHeader: { in: [...headers] } },
    select: { messageIdHeader: true, state: true, attempts: true, lastError: true },
  })
  return JSON.stringify(messages.length > 0 ? messages : 'no message was written')
}
