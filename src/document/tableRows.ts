import type { Vec3 } from '../geometry/vec3.ts'
import type { TableLine } from './cutTable.ts'

/** Bend rows as a table holds them: one straight more than bends. mm and degrees. */
export interface TableRows {
  readonly straights: readonly number[]
  readonly bends: readonly { readonly angle: number; readonly rotation: number | null }[]
}

/** One run that a table holds. `tag` is '' where no column has tags; `row` is its first. */
export type TableRun = { readonly tag: string; readonly row: number } & (
  | { readonly kind: 'points'; readonly points: readonly Vec3[] }
  | { readonly kind: 'rows'; readonly rows: TableRows }
)

/** One line with the figures read from it: mm or degrees by column, null where there is none, NaN where it is wrong. */
export interface FigureLine extends TableLine {
  readonly figures: readonly (number | null)[]
}
