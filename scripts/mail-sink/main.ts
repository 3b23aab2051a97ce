import { startSink } from './sink.ts'

// The sink as a process of its own, so that what is measured does not share its time. Tells its address and, asked, how
// many letters it took; leaves with whoever started it.
const sink = await startSink()
process.on('message', () => process.send!({ taken: sink.taken.length }))
process.on('disconnect', () => process.exit())
process.send!({ url: sink.url })
