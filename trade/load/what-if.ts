import type { Edition } from '../editions.ts'
import { standardRatingFrom } from '../overcurrent/standard-ratings.ts'
import { anAmps } from '../overcurrent/words.ts'
import { existingLoad } from './existing.ts'
import { loadArticle } from './factors.ts'
import type { LoadInputs } from './inputs.ts'
import { optionalLoad } from './optional.ts'
import { standardLoad } from './standard.ts'
import type { LoadMethod, LoadResult } from './worksheet.ts'

/** What the owner thinks of adding, in volt-amperes of the nameplate. */
export interface Additions {
  vehicleVA?: number
  heatPump?: { va: number; supplementVA?: number; replaces?: readonly ('airConditioners' | 'electricHeat')[] }
  rangeVA?: number
  hotTubVA?: number
}

/** One way to make room, as a sentence and with its figure. */
export type Change =
  | { kind: 'larger-service'; amps: number; sentence: string; article: string }
  | { kind: 'manage-load'; amps: number; sentence: string; article: string }
  | { kind: 'slower-charging'; va: number; sentence: string; article: string }
  | { kind: 'measure-demand'; sentence: string; article: string }

export interface WhatIf {
  before: LoadResult
  after: LoadResult
  /** Amperes left on the service; negative when short. Null while the load is not known. */
  marginBeforeAmps: number | null
  marginAfterAmps: number | null
  addedAmps: number | null
  fits: boolean | null
  /** What would have to change; empty when it fits. */
  changes: Change[]
}

/** Charging rates that vehicle supply equipment can usually be set to, amperes at 240 V. Common practice, no source. */
const CHARGING_AMPS = [48, 40, 32, 24, 16, 12]
const CHARGING_VOLTS = 240

export function withAdditions(inputs: LoadInputs, additions: Additions): LoadInputs {
  const { vehicleVA, heatPump, rangeVA, hotTubVA } = additions
  return {
    ...inputs,
    ...Object.fromEntries((heatPump?.replaces ?? []).map((list) => [list, []])),
    vehicles: appended(inputs.vehicles, 'New vehicle charger', vehicleVA),
    cooking: appended(inputs.cooking, 'New range', rangeVA),
    others: appended(inputs.others, 'New hot tub', hotTubVA),
    heatPumps: heatPump
      ? [
          ...inputs.heatPumps,
          { name: 'New heat pump', va: heatPump.va, supplementVA: heatPump.supplementVA ?? 0 },
        ]
      : inputs.heatPumps,
  }
}

function appended<Load>(loads: readonly Load[], name: string, va: number | undefined) {
  return va === undefined ? loads : [...loads, { name, va }]
}

/** The load under one method, the existing-dwelling method knowing whether heating or cooling is added. */
export function loadBy(
  method: LoadMethod,
  inputs: LoadInputs,
  edition: Edition,
  addsHeatingOrCooling = false,
): LoadResult {
  if (method === 'standard') return standardLoad(inputs, edition)
  if (method === 'optional') return optionalLoad(inputs, edition)
  return existingLoad(inputs, edition, { addsHeatingOrCooling })
}

/** The home as it is and with something added, against its service. */
export function whatIf(
  inputs: LoadInputs,
  additions: Additions,
  { edition, method, serviceAmps }: { edition: Edition; method: LoadMethod; serviceAmps: number },
): WhatIf {
  const addsClimate = additions.heatPump !== undefined
  const loadWith = (chosen: Additions) => loadBy(method, withAdditions(inputs, chosen), edition, addsClimate)
  const before = loadBy(method, inputs, edition, false)
  const after = loadWith(additions)
  const margin = (result: LoadResult) => (result.worksheet ? serviceAmps - result.worksheet.amps : null)
  const [marginBeforeAmps, marginAfterAmps] = [margin(before), margin(after)]
  const known = before.worksheet && after.worksheet
  return {
    before,
    after,
    marginBeforeAmps,
    marginAfterAmps,
    addedAmps: known ? after.worksheet.amps - before.worksheet.amps : null,
    fits: marginAfterAmps === null ? null : marginAfterAmps >= 0,
    changes:
      marginAfterAmps !== null && marginAfterAmps < 0
        ? changesFor(
            after.worksheet!.amps,
            -marginAfterAmps,
            edition,
            slowerCharging(additions, loadWith, serviceAmps),
          )
        : [],
  }
}

/** The fastest usual charging rate under the one asked for that still fits; null when none does. */
function slowerCharging(
  additions: Additions,
  loadWith: (chosen: Additions) => LoadResult,
  serviceAmps: number,
): number | null {
  const { vehicleVA } = additions
  if (vehicleVA === undefined) return null
  return (
    CHARGING_AMPS.map((amps) => amps * CHARGING_VOLTS)
      .filter((va) => va < vehicleVA)
      .find((va) => {
        const { worksheet } = loadWith({ ...additions, vehicleVA: va })
        return worksheet !== undefined && worksheet.amps <= serviceAmps
      }) ?? null
  )
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1)
}

function changesFor(
  neededAmps: number,
  shortAmps: number,
  edition: Edition,
  slowerVA: number | null,
): Change[] {
  const changes: Change[] = []
  const larger = standardRatingFrom(neededAmps, edition)
  if (larger !== null) {
    changes.push({
      kind: 'larger-service',
      amps: larger,
      sentence: `${capital(anAmps(larger))} service with conductors to suit; the utility decides what it can bring.`,
      article: '240.6(A)',
    })
  }
  if (slowerVA !== null) {
    changes.push({
      kind: 'slower-charging',
      va: slowerVA,
      sentence: `Vehicle charging set to ${slowerVA / CHARGING_VOLTS} A.`,
      article: loadArticle('vehicle', edition),
    })
  }
  changes.push(
    {
      kind: 'manage-load',
      amps: shortAmps,
      sentence: `Listed energy management that keeps ${shortAmps} A off while the rest runs.`,
      article: '750.30',
    },
    {
      kind: 'measure-demand',
      sentence:
        'A year’s highest demand from the utility, or 30 days of recording, instead of the calculation.',
      article: loadArticle('measured', edition),
    },
  )
  return changes
}
