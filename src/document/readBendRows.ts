import { cellError, type TableError } from './tableError.ts'
import type { TableLayout } from './tableLayout.ts'
import type { FigureLine, TableRows } from './tableRows.ts'

/**
 * The bend rows of one run: each line a straight, the rotation to a bend and its angle, the last line the last
 * straight alone (an angle or rotation of 0 there is none). Errors by row and column are added to `errors`.
 */
export function bendRows(lines: readonly FigureLine[], layout: TableLayout, errors: TableError[]): TableRows {
  const column = (role: 'straight' | 'rotation' | 'angle') => layout.roles.indexOf(role)
  const [straightAt, rotationAt, angleAt] = [column('straight'), column('rotation'), column('angle')]
  const stands = layout.rotationStands === 'withItsBend' ? 0 : 1
  const sign = layout.positive === 'clockwise' ? 1 : -1
  const wrong = (line: FigureLine, at: number, found: string, wanted: string) => {
    if (at >= 0) errors.push(cellError(line.row, at + 1, found, wanted))
  }
  const straights: number[] = []
  const bends: { angle: number; rotation: number | null }[] = []
  const last = lines.length - 1
  lines.forEach((line, i) => {
    straights.push(line.figures[straightAt] ?? 0)
    const rotation = line.figures[rotationAt] ?? null
    const angle = line.figures[angleAt] ?? null
    const leadsTo = i + stands
    if (i === last) {
      const alone = 'nothing: the last row holds the last straight only'
      if ((angle ?? 0) !== 0) {
        if (rotation !== null) wrong(line, rotationAt, `${rotation}`, alone)
        wrong(line, angleAt, `${angle}`, alone)
      } else if ((rotation ?? 0) !== 0) wrong(line, rotationAt, `${rotation}`, alone)
      return
    }
    if (angle === null) wrong(line, angleAt, 'nothing', 'an angle: only the last row has none')
    else if (!Number.isNaN(angle) && !(angle > 0 && angle < 180))
      wrong(line, angleAt, `${angle}`, 'an angle above 0 and below 180 degrees')
    const isBlank = rotation === null || rotation === 0 || Number.isNaN(rotation)
    if (leadsTo === 0 && !isBlank)
      wrong(
        line,
        rotationAt,
        `${rotation}`,
        'nothing or 0: the first bend has no bend before it to turn from',
      )
    if (leadsTo === last && !isBlank)
      wrong(line, rotationAt, `${rotation}`, 'nothing or 0: there is no bend after the last one to turn to')
    if (leadsTo > 0 && leadsTo < last && rotation === null)
      wrong(line, rotationAt, 'nothing', 'an angle in degrees')
    const own = i === 0 ? null : (lines[i - stands]?.figures[rotationAt] ?? 0)
    bends.push({ angle: angle ?? 0, rotation: own === null ? null : signed(own, sign) })
  })
  return { straights, bends }
}

/** The rotation in our own sign; minus 180 is the half turn that 180 is. */
function signed(rotation: number, sign: 1 | -1): number {
  if (sign === 1) return rotation
  return rotation === 180 ? 180 : -rotation + 0
}
