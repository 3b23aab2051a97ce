// Runs one server for another program and stops it when that program is gone, however it went: its standard input is a
// pipe from there, and the pipe ends with its owner. The server gets a session of its own, so a Ctrl-C in the terminal
// reaches the owner alone, who still needs its database to finish what is in hand.
//   node keeper.mjs '{"command", "args", "cwd"?, "uid"?, "gid"?, "log", "stopSignal", "removeFolder"?}'
import { spawn } from 'node:child_process'
import { openSync, rmSync } from 'node:fs'

const PATIENCE_MS = 25_000
const order = JSON.parse(process.argv[2])
const log = openSync(order.log, 'a')

const server = spawn(order.command, order.args, {
  cwd: order.cwd,
  uid: order.uid,
  gid: order.gid,
  detached: process.platform !== 'win32',
  stdio: ['ignore', log, log],
})
server.on('error', (error) => {
  process.stderr.write(`${error.message}\n`)
  leave(1)
})
server.on('exit', (code) => leave(code ?? 1))

process.stdin.resume()
process.stdin.on('close', stop)
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => {})
process.on('SIGTERM', stop)

function stop() {
  server.kill(order.stopSignal)
  setTimeout(() => server.kill('SIGKILL'), PATIENCE_MS).unref()
}

function leave(code) {
  if (order.removeFolder) rmSync(order.removeFolder, { recursive: true, force: true, maxRetries: 3 })
  process.exit(code)
}
