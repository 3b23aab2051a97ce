import { existsSync } from 'node:fs'
import { type Browser, chromium } from 'playwright-core'

const places = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
]

export const CHROMIUM_ARGS: readonly string[] = [
  // Chromium's sandbox refuses root, which is who runs in most containers.
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--disable-gpu',
  '--disable-dev-shm-usage',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
]

/** The system's own Chromium; playwright never downloads one. */
export function chromiumPath(): string {
  const path = places.find((each) => each && existsSync(each))
  if (!path) {
    throw new Error('These tests need Chromium: `apt-get install chromium`, or set CHROMIUM to its path.')
  }
  return path
}

/** Without a window. */
export function launchChromium(): Promise<Browser> {
  return chromium.launch({ executablePath: chromiumPath(), args: [...CHROMIUM_ARGS] })
}
