import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import { expect, test } from 'vitest'
import { parse } from 'yaml'
import { fieldNames, variableOf } from '../../server/env.ts'

// The schema is the Compose Specification's own compose-spec.json, as the package dclint carries it.
// It names draft-07 by an address that Ajv does not know it by, hence validateSchema.
const ajv = new Ajv({ strict: false, allErrors: true, validateSchema: false })
// By the specification's section on durations, not ISO 8601: 1m30s.
ajv.addFormat('duration', /^(?:\d+(?:us|ms|s|m|h))+$/)
const published = readFileSync('node_modules/dclint/schemas/compose.schema.json', 'utf8')
const isCompose = ajv.compile(JSON.parse(published) as object)

interface Service {
  image: string
  user?: string
  command?: string[]
  environment?: Record<string, string>
  healthcheck?: { test?: string[]; disable?: boolean }
  deploy?: { resources?: { limits?: { cpus?: string; memory?: string } } }
  volumes?: string[]
  ports?: string[]
}

const text = readFileSync('docker-compose.yml', 'utf8')
const compose = parse(text, { merge: true }) as {
  services: Record<string, Service>
  volumes: Record<string, null>
}
const services = Object.entries(compose.services)

test('the compose file is one by the published schema', () => {
  expect(isCompose(compose), JSON.stringify(isCompose.errors, null, 2)).toBe(true)
})

test('the schema refuses what is none', () => {
  expect(isCompose({ services: { api: { image: 'x', port: ['1:1'] } } })).toBe(false)
})

test.each(services)('%s has limits, a health check or an end, and a pinned image', (name, service) => {
  expect(service.deploy?.resources?.limits).toMatchObject({
    cpus: expect.any(String),
    memory: expect.any(String),
  })
  expect(service.image).toMatch(/:[^:]*\d/)
  if (name === 'migrate') expect(service.healthcheck?.disable).toBe(true)
  else expect(service.healthcheck?.test?.[0]).toBe('CMD')
})

test('nobody runs as root', () => {
  for (const [, { image, user }] of services) {
    if (image.startsWith('watchlamp')) expect(readFileSync('Dockerfile', 'utf8')).toMatch(/^USER node$/m)
    else expect(user).toMatch(/^(?:postgres|redis)$/)
  }
})

test('there is no default password, and every secret must be given', () => {
  for (const name of ['POSTGRES_PASSWORD', 'SECRET', 'SMTP_URL', 'PUBLIC_URL', 'MAIL_FROM']) {
    expect(text.match(new RegExp(`\\$\\{${name}[^}]*`, 'g'))).toSatisfy((uses: string[]) =>
      uses.every((use) => use.startsWith(`\${${name}:?`)),
    )
  }
})

test('data outlives its container: named volumes, at the place where PostgreSQL 18 keeps its own', () => {
  expect(compose.services['postgres']?.volumes).toEqual(['database:/var/lib/postgresql'])
  expect(compose.services['redis']?.command).toEqual(
    expect.arrayContaining(['--appendonly', 'yes', 'noeviction']),
  )
  for (const name of ['api', 'worker']) expect(compose.services[name]?.volumes).toEqual(['files:/data'])
  expect(Object.keys(compose.volumes).sort()).toEqual(['database', 'files', 'queue'])
})

test('only the API is reachable, and only from this machine', () => {
  const open = services.filter(([, { ports }]) => ports).map(([name, { ports }]) => [name, ports])
  expect(open).toEqual([['api', [expect.stringMatching(/^127\.0\.0\.1:/)]]])
})

test('the settings that it passes are settings', () => {
  const known = [...fieldNames.map(variableOf), 'NODE_OPTIONS']
  expect(known).toEqual(
    expect.arrayContaining(Object.keys(compose.services['api']?.environment ?? { none: '' })),
  )
})

test('.env.example names every setting', () => {
  const named = readFileSync('.env.example', 'utf8').match(/^#?[A-Z_]+(?==)/gm) ?? []
  expect(named.map((name) => name.replace('#', '')).sort()).toEqual(
    [...fieldNames.map(variableOf), 'POSTGRES_PASSWORD'].sort(),
  )
})
