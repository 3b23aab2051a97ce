import { existsSync } from 'node:fs'
import { type Browser, chromium } from 'playwright-core'

const places = [
  process.env.CHROMIUM,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
]

/** The system's own Chromium, without a window; playwright never downloads one. */
export function launchChromium(): Promise<Browser> {
  const executablePath = places.find((path) => path && existsSync(path))
  if (!executablePath) {
    throw new Error('These tests need Chromium: `apt-get install chromium`, or set CHROMIUM to its path.')
  }
  return chromium.launch({
    executablePath,
    args: [
      // Chromium's sandbox refuses root, which is who runs in most containers.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--disable-gpu',
      '--disable-dev-shm-usage',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  })
}
