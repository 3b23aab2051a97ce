import { copyFile, mkdir, readdir, rename, stat, unlink, utimes } from 'node:fs/promises'
import { join } from 'node:path'

/** A window may stay open, or a phone away, for weeks and then ask for a part of the version that it runs. */
const KEPT_DAYS = 60

/**
 * Keeps the assets of this build beside those of earlier ones; removes what no build of the last 60 days had.
 * @param built assets as Vite names them, by a hash of their contents: the same name is the same file
 * @param kept outlives the build: a new image or an emptied dist/ does not take it away
 */
export async function keepAssets(built: string, kept: string, now: Date): Promise<void> {
  await mkdir(kept, { recursive: true })
  const names = await readdir(built)
  for (const name of names) {
    const [from, to] = [join(built, name), join(kept, name)]
    if ((await sizeOf(to)) !== (await sizeOf(from))) {
      // Several servers may share the folder: a file appears whole.
      const beside = `${to}.${process.pid}.part`
      await copyFile(from, beside)
      await rename(beside, to)
    }
    // When it was last part of a build that ran.
    await utimes(to, now, now)
  }
  const current = new Set(names)
  for (const name of await readdir(kept)) {
    if (!current.has(name)) await removeWhenOld(join(kept, name), now)
  }
}

/** Another server may be removing the same file. */
async function removeWhenOld(path: string, now: Date): Promise<void> {
  const found = await stat(path).catch(() => null)
  if (found && now.getTime() - found.mtimeMs > KEPT_DAYS * 86_400_000) await unlink(path).catch(() => {})
}

async function sizeOf(path: string): Promise<number | null> {
  return stat(path).then(
    (found) => found.size,
    () => null,
  )
}
