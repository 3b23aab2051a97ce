import { type LoadInputs, NO_LOAD } from '../../../trade/load/inputs.ts'

/** NFPA 70-2005 Annex D1(a): 1500 ft², 12 kW range, 5.5 kW dryer. */
export const D1A: LoadInputs = {
  ...NO_LOAD,
  areaSqFt: 1500,
  smallApplianceCircuits: 2,
  laundryCircuits: 1,
  cooking: [{ name: 'Range', va: 12_000 }],
  dryers: [{ name: 'Dryer', va: 5500 }],
}
/** NFPA 70-2005 Annex D2(a): heat in five rooms, 6 A 230 V air conditioner. */
export const D2A: LoadInputs = {
  ...D1A,
  dryers: [{ name: 'Dryer', va: 5000 }],
  appliances: [
    { name: 'Water heater', va: 2500 },
    { name: 'Dishwasher', va: 1200, volts: 120 },
  ],
  electricHeat: [{ name: 'Room heaters', va: 9000 }],
  heaterControls: 5,
  airConditioners: [{ name: 'Air conditioner', va: 6 * 230 }],
}
