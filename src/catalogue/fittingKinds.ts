import table from '../../shared/fittings.json' with { type: 'json' }
import { tableMm } from './inUnit.ts'

/** What a generic port needs of its tube, mm. Invented for the demo: take the maker's data for real work. */
export interface FittingKind {
  readonly id: string
  readonly name: string
  readonly system: 'mm' | 'in'
  readonly tubeOd: number
  readonly insertionDepth: number
  readonly straightNeeded: number
  readonly source: string
}

export const FITTING_KINDS: readonly FittingKind[] = table.fittings.map(row => ({
  id: row.id,
  name: row.name,
  system: row.unit === 'in' ? 'in' : 'mm',
  tubeOd: tableMm(row.tubeOd, row.unit),
  insertionDepth: tableMm(row.insertionDepth, row.unit),
  straightNeeded: tableMm(row.straightNeeded, row.unit),
  source: row.source,
}))

/** The kind with this id, or null when the table has none. */
export const fittingKind = (id: string): FittingKind | null => FITTING_KINDS.find(k => k.id === id) ?? null
