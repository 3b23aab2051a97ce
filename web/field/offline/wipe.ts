import type { FieldServer } from './server.ts'
import type { FieldStore, Unsent } from './store.ts'

/**
 * The office ended this device's session: everything of customers and homes is deleted at once, sent or not, and the
 * office is told how much it never got. The count stays until it was told; it names nobody.
 */
export async function wipe(store: FieldStore, server: FieldServer): Promise<void> {
  const deviceId = await store.deviceId()
  const unsent = await store.transaction('rw', store.tables, async () => {
    const lost = (await store.setting<Unsent>('wiped')) ?? (await store.unsent())
    await Promise.all(store.tables.map((table) => table.clear()))
    await store.settings.bulkPut([
      { key: 'device', value: deviceId },
      { key: 'wiped', value: lost },
    ])
    return lost
  })
  try {
    await server.wiped(deviceId, unsent)
    await store.settings.delete('wiped')
  } catch {
    // Told at the next contact.
  }
}
