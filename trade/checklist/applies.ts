import { type Home, inUse } from '../home.ts'

/**
 * Why an item is left out of a home's checklist. Only a fact that is on the record leaves an item out; what nobody
 * knows yet stays on the list.
 */
export type Applies = (home: Home) => true | string

/** A recorded bond of gas piping tells of gas whatever the property says. */
export const whereGasIsPiped: Applies = (home) => {
  const { hasGasPiping, fuels } = home.property
  if (hasGasPiping || inUse(home, 'bond').some(({ details }) => details.of === 'gas-pipe')) return true
  if (hasGasPiping === false) return 'The home has no gas piping.'
  if (fuels && !fuels.includes('natural-gas') && !fuels.includes('propane')) return 'No gas is used here.'
  return true
}

export const whereThereIsAGarage: Applies = ({ property: { garage } }) =>
  garage === 'none' ? 'The home has no garage.' : true

/** Carbon monoxide can arise or come in: fuel burned, or a garage attached. IRC R315 draws the same line. */
export const whereCarbonMonoxideCanArise: Applies = ({ property: { fuels, garage }, spaces }) => {
  if (spaces.some((space) => space.hasFuelBurner)) return true
  const onlyElectric = fuels !== null && fuels.length > 0 && fuels.every((fuel) => fuel === 'electric')
  const noGarageAttached = garage === 'none' || garage === 'detached'
  return onlyElectric && noGarageAttached ? 'Nothing here burns fuel and no garage is attached.' : true
}

export const whereSupplyIsOverhead: Applies = (home) => {
  const services = inUse(home, 'service')
  const underground = services.length > 0 && services.every(({ details }) => details.supply === 'underground')
  return underground ? 'The service comes in underground.' : true
}
