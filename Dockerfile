# syntax=docker/dockerfile:1

# Node 24 with what the packages bring: nothing is downloaded when the container runs.
FROM node:24-bookworm-slim AS base
WORKDIR /app

FROM base AS build
COPY package.json package-lock.json .npmrc ./
# Generating the database client needs no engine, and would download one unless told of a file that exists.
ENV PRISMA_SCHEMA_ENGINE_BINARY=/usr/local/bin/node
RUN --mount=type=cache,target=/root/.npm npm ci
COPY . .
RUN npm run build

FROM base AS packages
COPY package.json package-lock.json .npmrc ./
# Without the development packages named at all, npm also leaves out what others of them would accept as a companion:
# the Prisma CLI alone is 300 MB.
RUN --mount=type=cache,target=/root/.npm npm pkg delete devDependencies && npm install --omit=dev

FROM base
ENV NODE_ENV=production HOST=0.0.0.0 PORT=3000 WORKER_PORT=3001 DATA_DIR=/data
# A named volume takes its owner from here: the program runs as node and writes nowhere else.
RUN mkdir /data && chown node:node /data
COPY --from=packages /app/node_modules ./node_modules
COPY --from=build /app/dist ./dist
COPY package.json LICENSE ./
USER node
EXPOSE 3000
HEALTHCHECK --interval=15s --timeout=5s --start-period=30s --retries=3 CMD ["node", "dist/scripts/health-check.js", "api"]
CMD ["node", "dist/server/main.js"]
