import { Redis } from 'ioredis'
import { afterAll, inject } from 'vitest'

/** A Redis database of this test file's own, emptied when the file is done.
 *  @returns its address, such as redis://127.0.0.1:6379/7 */
export async function testRedis(): Promise<string> {
  const server = inject('redisUrl')
  if (!server) throw new Error('These tests need Redis: install it with `apt-get install redis-server`.')
  // Database 0 only counts: each caller takes the next number.
  const counter = new Redis(server)
  const number = await counter.incr('databases-taken')
  await counter.quit()
  const url = `${server}/${number}`
  const client = new Redis(url)
  await client.flushdb()
  afterAll(async () => {
    await client.flushdb()
    await client.quit()
  })
  return url
}
