import type { Requirement, RequirementRow } from '../requirement.ts'

/**
 * What the codes ask of alarms in homes. Alarm rules stand in the International Residential Code and in NFPA 72, but what
 * a jurisdiction records is its edition of NFPA 70. Each IRC carries the electrical code of the year before (IRC 2018
 * with NFPA 70-2017), and NFPA 72 appears in the year before NFPA 70, so the editions are taken together; from memory. A
 * place that adopts them apart enters its differences as local amendments. Numbers of the IRC: R317 (2000), R313 (2006),
 * R314 and R315 (2009), R310 and R311 (2024, from memory).
 */
function smokeRows(row: string): RequirementRow[] {
  return [
    { since: '1999', required: true, article: 'R317.1', row, source: 'from memory' },
    { since: '2005', required: true, article: 'R313.1', row, source: 'from memory' },
    { since: '2008', required: true, article: 'R314.3', row, source: 'IRC R314.3' },
    { since: '2023', required: true, article: 'R310.3', row, source: 'number from memory' },
  ]
}

function smoke(place: string, row: string): Requirement {
  const keys = ['alarms.smoke-coverage', `alarms.smoke-coverage/${place}`]
  return { code: 'IRC', keys, before: 'unknown', rows: smokeRows(row) }
}

export const SMOKE_PLACES = {
  'sleeping-room': smoke('sleeping-room', 'in each sleeping room'),
  'sleeping-area': smoke('sleeping-area', 'outside each sleeping area, in its immediate vicinity'),
  level: smoke('level', 'on each storey with the basement, not in crawl spaces and unfinished attics'),
} as const

/** Carbon monoxide came into the IRC in 2009; before that some states asked for it, so older editions tell nothing. */
export const CO_PLACES = {
  'sleeping-area': {
    code: 'IRC',
    keys: ['alarms.co-coverage', 'alarms.co-coverage/sleeping-area'],
    before: 'unknown',
    rows: [
      { since: '2008', required: true, article: 'R315.1', source: 'IRC-2009 R315' },
      { since: '2014', required: true, article: 'R315.3', source: 'IRC R315' },
      { since: '2023', required: true, article: 'R311.3', source: 'number from memory' },
    ],
  },
  'sleeping-room': {
    code: 'IRC',
    keys: ['alarms.co-coverage', 'alarms.co-coverage/sleeping-room'],
    before: 'unknown',
    rows: [
      {
        since: '2014',
        required: true,
        article: 'R315.3',
        row: 'in a bedroom where fuel is burned in it or in its bathroom',
        source: 'IRC R315; the year from memory',
      },
      { since: '2023', required: true, article: 'R311.3', source: 'number from memory' },
    ],
  },
  level: {
    code: 'NFPA 72',
    keys: ['alarms.co-coverage', 'alarms.co-coverage/level'],
    before: 'unknown',
    rows: [
      {
        since: '2020',
        required: true,
        article: 'chapter 29, carbon monoxide alarms',
        row: 'on each level that people use; the federal advice leaves out basements without a sleeping area',
        source: 'NFPA 72-2019 took in NFPA 720; the places from memory',
      },
    ],
  },
  /** Published advice disagrees, so a basement without bedrooms is asked for only where an admin enters it. */
  basement: {
    code: 'NFPA 72',
    keys: ['alarms.co-coverage/basement'],
    before: 'no',
    rows: [
      { since: '2020', required: false, article: 'chapter 29', source: 'own choice between the readings' },
    ],
  },
} as const satisfies Record<string, Requirement>

/** From this edition on an attached garage counts only where it opens into the home. IRC-2015, the year from memory. */
export const GARAGE_OPENING_SINCE = '2014'

export const SMOKE_INTERCONNECTION: Requirement = {
  code: 'IRC',
  keys: ['alarms.interconnection'],
  before: 'unknown',
  rows: [
    { since: '1999', required: true, article: 'R317.2', source: 'from memory' },
    { since: '2005', required: true, article: 'R313.2', source: 'from memory' },
    { since: '2008', required: true, article: 'R314.3', source: 'from memory' },
    { since: '2011', required: true, article: 'R314.5', source: 'IRC-2012 R314.5' },
    { since: '2014', required: true, article: 'R314.4', source: 'IRC R314.4' },
    { since: '2023', required: true, article: 'R310.4', source: 'number from memory' },
  ],
}

export const SMOKE_POWER: Requirement = {
  code: 'IRC',
  keys: ['alarms.power'],
  before: 'unknown',
  rows: [
    { since: '1999', required: true, article: 'R317.3', source: 'from memory' },
    { since: '2008', required: true, article: 'R314.4', source: 'IRC-2012 R314.4; the year from memory' },
    { since: '2014', required: true, article: 'R314.6', source: 'IRC R314.6' },
    { since: '2023', required: true, article: 'R310.6', source: 'number from memory' },
  ],
}

export const CO_POWER: Requirement = {
  code: 'IRC',
  keys: ['alarms.power', 'alarms.power/co'],
  before: 'no',
  rows: [
    { since: '2014', required: true, article: 'R315.6', source: 'from memory' },
    { since: '2023', required: true, article: 'R311.6', source: 'number from memory' },
  ],
}

/** The hall alarm is near enough to every bedroom door. */
export const BEDROOM_PATH: Requirement = {
  code: 'NFPA 72',
  keys: ['alarms.bedroom-path'],
  before: 'unknown',
  rows: [
    { since: '2011', required: true, article: '29.5.1.1', source: 'NFPA 72-2010 §29.5.1.1' },
    { since: '2020', required: true, article: '29.8.1.1', source: 'number from memory' },
  ],
}

export const LARGE_LEVEL: Requirement = {
  code: 'NFPA 72',
  keys: ['alarms.large-level'],
  before: 'unknown',
  rows: [
    { since: '2017', required: true, article: '29.5.1.3', source: 'NFPA 72-2016; number from memory' },
    { since: '2020', required: true, article: '29.8.1.3', source: 'number from memory' },
  ],
}

export const PERMIT_UPGRADE: Requirement = {
  code: 'IRC',
  keys: ['alarms.permit-upgrade'],
  before: 'unknown',
  rows: [
    { since: '2008', required: true, article: 'R314.3.1', source: 'IRC-2009 R314.3.1' },
    { since: '2014', required: true, article: 'R314.2.2', source: 'IRC R314.2.2' },
    { since: '2023', required: true, article: 'R310.2.2', source: 'number from memory' },
  ],
}
