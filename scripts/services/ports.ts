import { createServer } from 'node:net'

/** A port of this machine that nobody listens on. */
export function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer().once('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address() as { port: number }
      probe.close(() => resolve(port))
    })
  })
}

export function isFree(port: number, host = '127.0.0.1'): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createServer().once('error', () => resolve(false))
    probe.listen(port, host, () => probe.close(() => resolve(true)))
  })
}

/** The first free port at or after the one wanted; `onBusy` hears of each that was taken. */
export async function portFrom(wanted: number, onBusy: (port: number) => void): Promise<number> {
  for (let port = wanted; port < Math.min(wanted + 100, 65536); port++) {
    if (await isFree(port)) return port
    onBusy(port)
  }
  return freePort()
}
