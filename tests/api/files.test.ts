import { createHash } from 'node:crypto'
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { diskFiles } from '../../server/gateways/files-disk.ts'

const root = await mkdtemp(join(tmpdir(), 'watchlamp-files-'))
afterAll(() => rm(root, { recursive: true }))
const files = diskFiles(join(root, 'files'))
const everything = async () =>
  (await readdir(root, { recursive: true, withFileTypes: true }))
    .filter((each) => each.isFile())
    .map((each) => each.name)

test('what is put is found under the hash of its bytes, once', async () => {
  const bytes = Buffer.from('a picture of a panel')
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  expect(await files.get(sha256)).toBeNull()
  const names = await Promise.all([files.put(bytes), files.put(bytes), files.put(Buffer.from(bytes))])
  expect(names).toEqual([sha256, sha256, sha256])
  expect(await files.get(sha256)).toEqual(bytes)
  expect(await everything()).toEqual([sha256])
})

test('a torn file of an earlier crash is written anew', async () => {
  const bytes = Buffer.alloc(50_000, 7)
  const sha256 = await files.put(bytes)
  await writeFile(join(root, 'files', sha256.slice(0, 2), sha256.slice(2, 4), sha256), 'torn')
  await files.put(bytes)
  expect(await files.get(sha256)).toEqual(bytes)
})

test('nothing but a hash names a file', async () => {
  for (const name of ['../../etc/passwd', '', 'ab', 'A'.repeat(64), `${'a'.repeat(63)}/`])
    expect(await files.get(name)).toBeNull()
})

test('a full or missing disk is said, and leaves nothing half written', async () => {
  const blocked = join(root, 'a-file')
  await writeFile(blocked, '')
  await expect(diskFiles(blocked).put(Buffer.from('x'))).rejects.toThrow(/ENOTDIR|EEXIST/)
  expect((await everything()).filter((name) => name.endsWith('.part'))).toEqual([])
})
