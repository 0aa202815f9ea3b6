import { DEG, type Vec3 } from '../../geometry/vec3.ts'
import { pointOn } from '../../solve/centreLine.ts'
import type { Piece } from '../../solve/types.ts'
import { BLACK, type Box, type PathItem, type PathStep } from '../paper.ts'
import { type Frame, onPaper } from '../views.ts'
import type { At } from './outlines.ts'

/** Line and gap, mm. */
const DASH: readonly number[] = [1.5, 0.9]
const WIDTH = 0.2
/** Bends are followed in steps of this. */
const STEP = 5 * DEG
/** A tube narrower than this on paper is one dashed line, mm. */
const HAIR = 0.9

/**
 * A tube that is no more as two dashed lines along its sides, seen through whatever is drawn. A tube is all balls of its
 * diameter along its centre line, so its sides in a parallel view lie half the diameter off the centre line as seen.
 */
export function dashedTube(pieces: readonly Piece[], od: number, frame: Frame, clip: Box): PathItem[] {
  const half = (od * frame.scale) / 2
  const centre = seenLine(pieces, frame)
  const lines = 2 * half < HAIR ? [centre] : [offset(centre, half), offset(centre, -half)]
  return lines
    .filter(line => line.length > 1)
    .map(line => ({
      kind: 'path',
      steps: line.map((p, i): PathStep => [i === 0 ? 'M' : 'L', ...p]),
      stroke: BLACK,
      width: WIDTH,
      dash: DASH,
      clip,
    }))
}

/** The centre line as it is seen, without points that fall on the one before. */
function seenLine(pieces: readonly Piece[], frame: Frame): At[] {
  const line: At[] = []
  const add = (p: Vec3) => {
    const at = onPaper(frame, p)
    const last = line[line.length - 1]
    if (!last || Math.hypot(at[0] - last[0], at[1] - last[1]) > 1e-3) line.push(at)
  }
  for (const piece of pieces) {
    const parts = piece.kind === 'arc' ? Math.max(1, Math.ceil(piece.angleRad / STEP)) : 1
    const long = piece.to - piece.from
    // An overrun straight has no outside.
    if (long <= 0) continue
    for (let k = 0; k <= parts; k++) add(pointOn(piece, (long * k) / parts).point)
  }
  return line
}

/** Longest a corner of the side may reach beyond its distance: where the line turns back it would run to infinity. */
const MITRE = 1.5

function offset(line: readonly At[], by: number): At[] {
  const normals = line.slice(1).map(([x, y], i): At => {
    const [dx, dy] = [x - line[i]![0], y - line[i]![1]]
    const long = Math.hypot(dx, dy)
    return [-dy / long, dx / long]
  })
  return line.map(([x, y], i): At => {
    const [a, b] = [normals[i - 1] ?? normals[i], normals[i] ?? normals[i - 1]]
    if (!a || !b) return [x, y]
    const [sx, sy] = [a[0] + b[0], a[1] + b[1]]
    const square = sx * sx + sy * sy
    // The mitre's length is 2 / |a + b| of the distance.
    const reach = square > (2 / MITRE) ** 2 ? 2 / square : MITRE / Math.max(Math.sqrt(square), 1e-9)
    return [x + sx * reach * by, y + sy * reach * by]
  })
}
