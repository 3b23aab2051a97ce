/** The log-ins that everybody knows. Only the demo company has them, and production refuses to run it. */
export const DEMO_PASSWORD = 'lamp in the window'

export const DEMO_LOGINS = [
  { role: 'office', email: 'office@example.com' },
  { role: 'technician', email: 'technician@example.com' },
  { role: 'admin', email: 'admin@example.com' },
] as const
