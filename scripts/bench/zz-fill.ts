import { Client } from 'pg'
import { writeFileSync } from 'node:fs'
import { migrate } from '../../prisma/migrate.ts'
import { startThrowawayPostgres } from '../services/postgres.ts'
import { fillBigCompany } from './big-company.ts'
const pgs = await startThrowawayPostgres()
const admin = new Client(pgs.url('postgres')); await admin.connect(); await admin.query('CREATE DATABASE big'); await admin.end()
const url = pgs.url('big')
await migrate(url)
const client = new Client(url); await client.connect()
const t = performance.now()
const longest = await fillBigCompany(client, Number(process.env.HOMES ?? 100000))
console.log('filled', Math.round(performance.now() - t), 'ms')
await client.end()
writeFileSync('/tmp/bigdb.json', JSON.stringify({ url, longest }))
process.on('SIGTERM', async () => { await pgs.stop(); process.exit(0) })
setInterval(() => {}, 1000)
