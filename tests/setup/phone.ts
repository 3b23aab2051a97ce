import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { chromium, type Browser, type Page } from 'playwright-core'
import { CHROMIUM_ARGS, chromiumPath } from './chromium.ts'
import { PHONE } from './pages.ts'

const PATIENCE_MS = 30_000

/**
 * A browser with a disk of its own, as a phone has: what it keeps outlives it, also when it is killed. The process is
 * ours, since playwright tells nobody whom to kill.
 */
export class Phone {
  private readonly folder = mkdtempSync(join(tmpdir(), 'watchlamp-phone-'))
  private process: ChildProcess | null = null
  private browser: Browser | null = null

  /** Starts it, with whatever it kept, on an empty page. */
  async turnOn(viewport = PHONE): Promise<Page> {
    const told = join(this.folder, 'DevToolsActivePort')
    rmSync(told, { force: true })
    this.process = spawn(
      chromiumPath(),
      [
        ...CHROMIUM_ARGS,
        '--headless=new',
        '--remote-debugging-port=0',
        `--user-data-dir=${this.folder}`,
        '--no-default-browser-check',
        'about:blank',
      ],
      // A group of its own: killed with all its helpers, as by a dead battery. What it throws down goes with its disk.
      { detached: true, stdio: 'ignore', env: { ...process.env, TMPDIR: this.folder } },
    )
    const port = await portIn(told)
    this.browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`)
    const [context] = this.browser.contexts()
    const page = context!.pages()[0] ?? (await context!.newPage())
    await page.setViewportSize(viewport)
    return page
  }

  /** Closed by its person: what is written late, such as cookies, is written now. */
  async turnOff(): Promise<void> {
    const { process: running, browser } = this
    if (!running || !browser) return
    const ended = once(running, 'exit')
    const session = await browser.newBrowserCDPSession()
    await session.send('Browser.close').catch(() => {})
    await ended
    this.process = this.browser = null
  }

  /** The battery is dead: nothing is written any more, nobody is asked. */
  async die(): Promise<void> {
    const { process: running } = this
    this.process = this.browser = null
    if (!running?.pid || running.exitCode !== null || running.signalCode !== null) return
    const ended = once(running, 'exit')
    process.kill(-running.pid, 'SIGKILL')
    await ended
    rmSync(join(this.folder, 'SingletonLock'), { force: true })
  }

  async throwAway(): Promise<void> {
    await this.die()
    rmSync(this.folder, { recursive: true, force: true, maxRetries: 5 })
  }
}

async function portIn(file: string): Promise<string> {
  for (const end = Date.now() + PATIENCE_MS; Date.now() < end; await pause(50)) {
    const [port] = existsSync(file) ? readFileSync(file, 'utf8').split('\n') : []
    if (port) return port
  }
  throw new Error('Chromium did not start')
}
