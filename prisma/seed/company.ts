/** The made-up company: of the demo, and wherever a test or a measurement needs one. */
export const KESTREL_ROW = {
  id: 1,
  name: 'Kestrel Row Electric',
  phone: '555-0100',
  email: 'office@example.com',
  addressLines: ['1 Kestrel Row', 'Port Ansel, ME 04991'],
  timeZone: 'America/New_York',
}
