// node dist/scripts/health-check.js api|worker: exit code 0 when that one, in this container, is ready for work.
const variable = process.argv[2] === 'worker' ? 'WORKER_PORT' : 'PORT'
const answer = await fetch(`http://127.0.0.1:${process.env[variable] ?? '3000'}/readyz`).catch(
  (error: Error) => error,
)

if (answer instanceof Error) console.error(`no answer: ${answer.message}`)
else if (!answer.ok) console.error(await answer.text())
process.exitCode = answer instanceof Error || !answer.ok ? 1 : 0

export {}
