import { EnvError, readSettings } from '../server/env.ts'
import { migrate, MigrationError } from '../prisma/migrate.ts'

// npm run migrate: brings the database of DATABASE_URL to this version. Safe to run at any time, by any number at once.

try {
  const applied = await migrate(readSettings(['databaseUrl']).databaseUrl, {
    onApplied: (name) => console.log(`applied ${name}`),
  })
  console.log(applied.length === 0 ? 'The database is up to date.' : 'The database is up to date now.')
} catch (error) {
  // The settings and the state of the database are for the operator to mend; a stack would only hide the sentence.
  const isForOperator = error instanceof EnvError || error instanceof MigrationError
  console.error(isForOperator ? error.message : error)
  process.exitCode = 1
}
