import type { Lead } from '../../src/solve/bendOrder.ts'
import type { SolvedRun } from '../../src/solve/types.ts'
import type { P } from './replay.ts'

/** The wanted straights, lengthened by what goes into the fittings. */
export function wanted(run: SolvedRun): { start: P; end: P }[] {
  const lines = run.route!.pieces.filter(p => p.kind === 'line')
  return lines.map((l, i) => {
    const shift = (p: readonly number[], by: number): P => [
      p[0]! + l.direction[0] * by,
      p[1]! + l.direction[1] * by,
      p[2]! + l.direction[2] * by,
    ]
    return {
      start: shift(l.start, i === 0 ? -run.insertionA : 0),
      end: shift(l.end, i === lines.length - 1 ? run.insertionB : 0),
    }
  })
}

/** The trim sits at the end that trailed at the first step: saw it off. */
export function sawn(tube: { start: P; end: P }[], first: Lead, trim: number): { start: P; end: P }[] {
  const i = first === 'A' ? tube.length - 1 : 0
  const s = tube[i]!
  const length = Math.hypot(s.end[0] - s.start[0], s.end[1] - s.start[1], s.end[2] - s.start[2])
  const at = (t: number): P => [0, 1, 2].map(c => s.start[c]! + ((s.end[c]! - s.start[c]!) * t) / length) as P
  const cut = first === 'A' ? { start: s.start, end: at(length - trim) } : { start: at(trim), end: s.end }
  return tube.map((piece, j) => (j === i ? cut : piece))
}
