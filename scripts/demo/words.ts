import { DEMO_LOGINS, DEMO_PASSWORD } from '../../prisma/seed/logins.ts'

const began = performance.now()

/** One line of progress, with the seconds since the start. */
export function says(text: string): void {
  const seconds = ((performance.now() - began) / 1000).toFixed(1).padStart(5)
  process.stdout.write(`${seconds} s  ${text}\n`)
}

/** The last thing that a start prints: where to go and who to be. */
export function summary({ publicUrl, mailUrl }: { publicUrl: string; mailUrl: string | null }): string {
  return [
    '',
    `  Watchlamp    ${publicUrl}`,
    ...DEMO_LOGINS.map(({ role, email }) => `  ${role.padEnd(12)} ${email}`),
    `  password     ${DEMO_PASSWORD}  (the same for all three)`,
    `  mail         ${mailUrl ?? 'leaves by your SMTP_URL: the demo’s homeowners are at example.com'}`,
    '',
    '  Ctrl-C stops it and keeps the data; npm run demo -- --fresh begins anew.',
    '',
    '',
  ].join('\n')
}
