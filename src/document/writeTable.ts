import type { Vec3 } from '../geometry/vec3.ts'
import type { TableRows } from './tableRows.ts'

/** Comma for files, tab for the clipboard. */
export type Separator = ',' | '\t'

/**
 * Points as a table `x,y,z` in mm with every digit, so that readPoints gives the same points back. Holds numbers and
 * the header only: no cell can be a formula.
 *
 * @throws RangeError naming the row of a number that is not finite.
 */
export function writePoints(points: readonly Vec3[], separator: Separator = ','): string {
  return table(['x', 'y', 'z'], points, separator)
}

/** Bend rows as a table `straight,rotation,angle`, the first rotation blank, the last straight alone on its row. */
export function writeRows(rows: TableRows, separator: Separator = ','): string {
  const lines = rows.straights.map((straight, i) => {
    const bend = rows.bends[i]
    return [straight, i === 0 ? null : (bend?.rotation ?? null), bend?.angle ?? null]
  })
  return table(['straight', 'rotation', 'angle'], lines, separator)
}

function table(
  header: readonly string[],
  rows: readonly (readonly (number | null)[])[],
  separator: Separator,
) {
  const lines = rows.map((row, i) =>
    row
      .map((n, k) => {
        if (n === null) return ''
        if (!Number.isFinite(n))
          throw new RangeError(`row ${i + 1}, ${header[k]}: found ${n}, wanted a finite number`)
        return String(n + 0)
      })
      .join(separator),
  )
  return `${[header.join(separator), ...lines].join('\n')}\n`
}
