import table from '../../shared/tube-sizes.json' with { type: 'json' }
import { tableMm } from './inUnit.ts'

/** A stocked tube size. `od` and `wall` in mm whatever system the size is named in. */
export interface TubeSize {
  readonly id: string
  readonly name: string
  readonly system: 'mm' | 'in'
  readonly od: number
  readonly wall: number
  readonly source: string
}

/** A wall gauge of the Birmingham wire gauge; wall in mm. */
export interface WallGauge {
  readonly gauge: number
  readonly wall: number
  readonly source: string
}

/** Metric sizes and inch sizes, each by OD, then wall. */
export const TUBE_SIZES: readonly TubeSize[] = table.sizes.map(row => ({
  id: row.id,
  name: row.name,
  system: row.unit === 'in' ? 'in' : 'mm',
  od: tableMm(row.od, row.unit),
  wall: tableMm(row.wall, row.unit),
  source: row.source,
}))

export const WALL_GAUGES: readonly WallGauge[] = table.wallGauges.map(row => ({
  gauge: row.gauge,
  wall: tableMm(row.wall, row.unit),
  source: row.source,
}))

/** The size with this id, or null when the table has none. */
export const tubeSize = (id: string): TubeSize | null => TUBE_SIZES.find(s => s.id === id) ?? null

/** The BWG number of a wall in mm, within 0.001 mm, or null when it is no gauge of the table. */
export const wallGauge = (wall: number): number | null =>
  WALL_GAUGES.find(g => Math.abs(g.wall - wall) <= 0.001)?.gauge ?? null
