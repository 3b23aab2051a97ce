import { defineConfig } from 'prisma/config'

// Only for the Prisma CLI; the program itself never reads this file.
export default defineConfig({ schema: 'prisma/schema.prisma' })
