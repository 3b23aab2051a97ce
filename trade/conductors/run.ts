import type { Edition } from '../editions.ts'
import type { DetailsOf } from '../equipment.ts'
import { ampacity, type ColumnC } from './ampacity.ts'
import { ambientFactor, bundlingFactor } from './factors.ts'
import { type ConductorMaterial, type ConductorSize, sizeRank } from './sizes.ts'

/** A conductor as it is installed. What is left out stands at the table's own conditions. */
export interface Run {
  size: ConductorSize
  material: ConductorMaterial
  insulationC: ColumnC
  /** As marked on the equipment; null = not marked. */
  terminalC: 60 | 75 | null
  wiring?: DetailsOf<'circuit'>['wiring']
  ambientC?: number | null
  bundled?: number | null
}

export interface RunAmpacity {
  /** What the run may carry; 0 where the table knows no such conductor or the insulation is out of its range. */
  amps: number
  /** What the insulation alone would bear after correction and adjustment. */
  insulationAmps: number
  tableAmps: number
  ambientFactor: number
  bundlingFactor: number
  /** Column that the terminals allow. */
  terminalC: ColumnC
}

/**
 * NFPA 70 110.14(C)(1): unmarked equipment on circuits up to 100 A, or made for 14 to 1 AWG, has 60 °C terminals; above
 * that 75 °C.
 */
const UNMARKED_TERMINALS = { smallToAmps: 100, smallToSize: '1', smallC: 60, largeC: 75 } as const

export function terminalColumn(markedC: 60 | 75 | null, size: ConductorSize, circuitAmps: number): 60 | 75 {
  if (markedC) return markedC
  const isSmall =
    circuitAmps <= UNMARKED_TERMINALS.smallToAmps &&
    sizeRank(size) <= sizeRank(UNMARKED_TERMINALS.smallToSize)
  return isSmall ? UNMARKED_TERMINALS.smallC : UNMARKED_TERMINALS.largeC
}

/** Cables whose final ampacity is the 60 °C column: 334.80 for NM (cap from memory), 340.80 for UF (from memory). */
const CABLES_HELD_TO_60: readonly Run['wiring'][] = ['nm', 'uf']

/**
 * The weakest part of the path governs: insulation after its factors, terminals, and the cable's own rule. Columns that
 * the table leaves empty for a size (18 and 16 AWG below 90 °C) say nothing.
 */
export function ampacityOfRun(run: Run, circuitAmps: number, edition: Edition): RunAmpacity {
  const at = (column: ColumnC) => ampacity(run.size, run.material, column, edition)
  const ambient = run.ambientC == null ? 1 : (ambientFactor(run.ambientC, run.insulationC) ?? 0)
  const bundling = run.bundled == null ? 1 : bundlingFactor(run.bundled)
  const terminalC = terminalColumn(run.terminalC, run.size, circuitAmps)
  const tableAmps = at(run.insulationC) ?? 0
  const insulationAmps = tableAmps * ambient * bundling
  const columns = [terminalC < run.insulationC ? terminalC : run.insulationC]
  if (CABLES_HELD_TO_60.includes(run.wiring)) columns.push(60)
  return {
    amps: Math.min(insulationAmps, ...columns.map((column) => at(column) ?? Infinity)),
    insulationAmps,
    tableAmps,
    ambientFactor: ambient,
    bundlingFactor: bundling,
    terminalC,
  }
}
