import { playHalf } from './schedules/play-all.ts'

await playHalf(1)
