import autocannon from 'autocannon'
import type { Measurement } from './run.ts'

const SECONDS = 6
const ROUNDS = 3
const CONNECTIONS = 8

interface Load {
  url: string
  headers?: Record<string, string>
  method?: 'GET' | 'POST'
  body?: string
}

/** Requests a second of ours and of the bare peer, in turns on the same machine; the median of the rounds' ratios. */
export async function againstBare(name: string, aim: number, ours: Load, bare: Load): Promise<Measurement> {
  await rate(ours, 2)
  await rate(bare, 2)
  const rounds: { ours: number; bare: number }[] = []
  for (let round = 0; round < ROUNDS; round++)
    rounds.push({ ours: await rate(ours, SECONDS), bare: await rate(bare, SECONDS) })
  const middle = rounds.toSorted((a, b) => a.ours / a.bare - b.ours / b.bare)[Math.floor(ROUNDS / 2)]!
  return {
    name,
    ours: Math.round(middle.ours),
    bare: Math.round(middle.bare),
    ratio: Math.round((middle.ours / middle.bare) * 100) / 100,
    aim,
    unit: 'requests/s',
  }
}

async function rate({ url, headers, method = 'GET', body }: Load, duration: number): Promise<number> {
  const result = await autocannon({
    url,
    method,
    duration,
    connections: CONNECTIONS,
    ...(headers && { headers }),
    ...(body && { body }),
  })
  if (result.non2xx > 0)
    throw new Error(`${result.non2xx} of ${result.requests.total} requests to ${url} were refused`)
  return result.requests.average
}
