import { day } from '../../trade/dates.ts'
import { CAUTIONS } from '../../trade/checklist/cautions.ts'
import type { ReportContent, ReportFinding } from '../../server/reports/content.ts'

/** A finding as a report prints it. */
export function buildReportFinding(number: number, more: Partial<ReportFinding> = {}): ReportFinding {
  return {
    number,
    id: `019f0000-0000-7000-8000-0000000000${String(number).padStart(2, '0')}`,
    severity: 'repair',
    area: 'Distribution panel, cover off',
    item: 'Circuit',
    place: 'Circuit 4',
    text: 'A 30 A breaker protects 14 AWG copper wire. The wire can overheat long before the breaker trips.',
    why: 'Each breaker must switch off before its wire gets too warm, and each wire must sit tight under its own screw.',
    correction: 'Replace the breaker with one of 15 A.',
    makeSafe: null,
    refusal: null,
    watchUntil: null,
    carried: false,
    foundOn: '2026-06-01',
    verdict: null,
    photos: [],
    ...more,
  }
}

/** A report with everything in it that a report can have. */
export function buildReportContent(more: Partial<ReportContent> = {}): ReportContent {
  return {
    format: 1,
    version: 1,
    reason: '',
    issuedOn: day('2026-06-02'),
    issuedBy: 'Dana Okafor',
    company: {
      name: 'Kestrel Row Electric',
      phone: '555-0100',
      email: 'office@example.com',
      addressLines: ['1 Kestrel Row', 'Port Ansel'],
    },
    property: {
      line1: '14 Quay Lane',
      line2: '',
      city: 'Port Ansel',
      region: 'NY',
      postcode: '12990',
      yearBuilt: 1978,
    },
    customer: { name: 'Robin Vale' },
    inspection: {
      id: '019f0000-0000-7000-8000-000000000000',
      inspectedOn: day('2026-06-01'),
      technician: 'Ana Reyes',
      checklistVersion: 1,
      note: '',
    },
    jurisdiction: { name: 'Port Ansel', edition: '2023' },
    answer: {
      safety: 'made-safe',
      headline: 'Safe to use for now: what was unsafe was made safe and still has to be put right.',
      limits: '2 things could not be inspected; this answer does not speak for them.',
      first: [1],
    },
    findings: [
      {
        severity: 'unsafe',
        title: 'Unsafe',
        meaning: 'Shock, burn or fire can happen today.',
        findings: [
          buildReportFinding(1, {
            severity: 'unsafe',
            makeSafe: 'Breaker switched off and tagged.',
            verdict: {
              rule: 'overcurrent.breaker-against-conductor',
              homeowner: 'This breaker is too large for its wire.',
              requiredWhenBuilt: 'yes',
              requiredToday: 'yes',
              references: ['NFPA 70-2023 240.4(D)(3)'],
            },
          }),
        ],
      },
      {
        severity: 'repair',
        title: 'Repair',
        meaning: 'Defective, or against the rule it was built under.',
        findings: [
          buildReportFinding(2, {
            area: 'Smoke, carbon monoxide and heat alarms',
            item: 'Alarm',
            place: 'Hall alarm',
            text: 'The hall smoke alarm was made in March 2014 and is past its ten years.',
            why: 'Alarms age even when they never sound. The date on the label tells when one has served its time.',
            correction: 'Replace it with a smoke alarm of the same kind.',
            carried: true,
            foundOn: '2022-05-11',
          }),
          buildReportFinding(3, {
            area: 'Receptacles',
            item: 'Tester pattern',
            place: 'Kitchen',
            text: 'Hot and neutral are reversed at the receptacle beside the stove.',
            correction: 'Reconnect the receptacle.',
            refusal: {
              name: 'Robin Vale',
              at: '2026-06-01T15:20:00Z',
              statement: 'I was told what this means and want it left as it is for now.',
            },
          }),
        ],
      },
      {
        severity: 'investigate',
        title: 'Investigate',
        meaning: 'Cannot be judged without more work.',
        findings: [
          buildReportFinding(4, {
            severity: 'investigate',
            area: 'Lighting',
            item: 'Recessed lights',
            place: 'Living room',
            text: 'Insulation may be touching the recessed lights; the attic hatch was nailed shut.',
            correction: 'Open the hatch and look from above.',
          }),
        ],
      },
      {
        severity: 'improve',
        title: 'Improve',
        meaning: 'Safe, but below what would be required in new work today.',
        findings: [
          buildReportFinding(5, {
            severity: 'improve',
            area: 'Ground-fault protection',
            item: 'Protection',
            place: 'Kitchen',
            text: 'The counter receptacles have no ground-fault protection.',
            correction: 'Fit a protected receptacle at the start of the run.',
            verdict: {
              rule: 'ground-fault.places',
              homeowner: '',
              requiredWhenBuilt: 'no',
              requiredToday: 'yes',
              references: ['NFPA 70-2023 210.8(A)(6)'],
            },
          }),
        ],
      },
      {
        severity: 'watch',
        title: 'Watch',
        meaning: 'Ageing: it has a date or a condition.',
        findings: [
          buildReportFinding(6, {
            severity: 'watch',
            area: 'Surge protection',
            item: 'Indicator',
            place: 'Surge protector',
            text: 'The indicator is lit. The protector was fitted in 2021.',
            correction: 'Look at its indicator once a year.',
            watchUntil: '2027-06-01',
          }),
        ],
      },
    ],
    devices: [
      {
        kind: 'Alarm',
        name: 'Hall alarm',
        place: 'Hall',
        manufacturedOn: '2014-03-01',
        installedOn: null,
        replaceBy: '2024-03-01',
        assumed: false,
        nextCheckOn: null,
      },
      {
        kind: 'Alarm',
        name: 'North bedroom alarm',
        place: 'North bedroom',
        manufacturedOn: null,
        installedOn: null,
        replaceBy: '2026-06-01',
        assumed: true,
        nextCheckOn: null,
      },
      {
        kind: 'Surge protector',
        name: 'Surge protector',
        place: 'Utility room',
        manufacturedOn: null,
        installedOn: '2021-06-20',
        replaceBy: '2031-06-20',
        assumed: true,
        nextCheckOn: '2027-06-01',
      },
    ],
    good: [
      {
        area: 'Service entrance, outdoors',
        items: [
          { title: 'Meter enclosure', places: ['Service'] },
          { title: 'Entry to the building', places: ['Service'] },
          { title: 'Outdoor emergency disconnect', places: ['Service'] },
        ],
      },
      {
        area: 'Distribution panel, cover off',
        items: [
          { title: 'Cover taken off', places: ['Hall panel'] },
          {
            title: 'Circuit',
            places: [
              'Circuit 1',
              'Circuit 2',
              'Circuit 3',
              'Circuit 5',
              'Circuit 6',
              'Circuit 7',
              'Circuit 8',
            ],
          },
          { title: 'Calculated load against the service', places: [] },
        ],
      },
      {
        area: 'Receptacles',
        items: [
          {
            title: 'Device steady in its box',
            places: ['Kitchen', 'Hall', 'Living room', 'North bedroom', 'East bedroom', 'Bathroom'],
          },
        ],
      },
    ],
    settled: [
      {
        text: 'The cover of the outdoor receptacle was missing.',
        foundOn: '2022-05-11',
        outcome: 'Corrected by others',
        note: 'New in-use cover',
      },
    ],
    notInspected: [
      {
        area: 'Service entrance, outdoors',
        title: 'Line-side and load-side lugs',
        places: ['Service'],
        reason: 'Utility seal',
        note: '',
      },
      {
        area: 'Receptacles',
        title: 'Tester pattern',
        places: ['East bedroom'],
        reason: 'Occupied',
        note: 'Night shift asleep',
      },
    ],
    leftOut: [
      { area: 'Gas piping bond', title: 'Bond of the gas piping', reason: 'The home has no gas piping.' },
      { area: 'Ground-fault protection', title: 'Garage', reason: 'The home has no garage.' },
    ],
    cautions: [
      'What was switched off or taken out of use to make it safe stays off until it is put right. Please do not switch it back on.',
      CAUTIONS.meter,
      'An inspection sees what can be reached on that day. It does not look into walls and does not predict failures.',
    ],
    ...more,
  }
}
