import { mkdirSync, readdirSync } from 'node:fs'
import { readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type AddressObject, type ParsedMail, simpleParser } from 'mailparser'

/** Whom the mail server was told, which the message itself need not say. */
export interface Envelope {
  from: string
  to: string[]
}

export interface CaughtSummary {
  /** Sorts by time of arrival. */
  id: string
  receivedAt: string
  envelope: Envelope
  from: string
  to: string
  subject: string
  messageId: string | null
}

export interface Caught extends CaughtSummary {
  source: Buffer
  mail: ParsedMail
}

export interface Mailbox {
  add: (source: Buffer, envelope: Envelope) => Promise<string>
  /** Newest first. */
  list: () => Promise<CaughtSummary[]>
  get: (id: string) => Promise<Caught | null>
  clear: () => Promise<void>
}

/** Mail as files: ID.eml as it came, ID.json with what only the envelope told. Survives a restart. */
export function openMailbox(folder: string): Mailbox {
  mkdirSync(folder, { recursive: true })
  const path = (id: string, ending: string) => join(folder, `${id}.${ending}`)
  const ids = () =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.json'))
      .map((name) => name.slice(0, -'.json'.length))
      .sort()
      .reverse()
  let count = 0

  return {
    async add(source, envelope) {
      const receivedAt = new Date().toISOString()
      const id = `${receivedAt.replace(/\D/g, '')}-${process.pid}-${String(++count).padStart(5, '0')}`
      const { subject = '', from, to, messageId = null } = await simpleParser(source)
      const summary = {
        id,
        receivedAt,
        envelope,
        from: addressText(from),
        to: addressText(to),
        subject,
        messageId,
      }
      await writeFile(path(id, 'eml'), source)
      // Listed only when whole: the name that list() looks for appears last, and at once.
      await writeFile(path(id, 'part'), JSON.stringify(summary))
      await rename(path(id, 'part'), path(id, 'json'))
      return id
    },
    list: () =>
      Promise.all(
        ids().map(async (id) => JSON.parse(await readFile(path(id, 'json'), 'utf8')) as CaughtSummary),
      ),
    async get(id) {
      if (!ids().includes(id)) return null
      const summary = JSON.parse(await readFile(path(id, 'json'), 'utf8')) as CaughtSummary
      const source = await readFile(path(id, 'eml'))
      return { ...summary, source, mail: await simpleParser(source) }
    },
    async clear() {
      for (const id of ids()) {
        await rm(path(id, 'json'), { force: true })
        await rm(path(id, 'eml'), { force: true })
      }
    },
  }
}

function addressText(address: AddressObject | AddressObject[] | undefined): string {
  return [address ?? []]
    .flat()
    .map(({ text }) => text)
    .join(', ')
}
