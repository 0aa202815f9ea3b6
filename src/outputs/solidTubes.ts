import { runOf } from '../document/lookUp.ts'
import type { SkidDocument } from '../document/types.ts'
import { type FinishedTube, finishedTube } from '../solve/finishedTube.ts'
import type { Piece, SolvedRoute, SolvedRun } from '../solve/types.ts'
import { OutputError } from './outputError.ts'

/** Straights shorter than this are no face of their own: a CAD kernel takes points this near for one. mm. */
export const NO_STRAIGHT_MM = 1e-6

/** A run as a solid: its pieces from tube end to tube end, insertions included. Lengths mm. */
export interface SolidTube {
  readonly runId: string
  readonly tag: string
  readonly od: number
  readonly wall: number
  readonly material: string
  /** Lines and arcs with a length, A to B, what goes into the fittings included. */
  readonly pieces: readonly Piece[]
  /** Centre-line length of `pieces`, mm. */
  readonly length: number
}

/** The run's route, or the reason why it has none. @throws OutputError */
export function routeOrThrow(solved: SolvedRun): SolvedRoute {
  if (solved.route === null)
    throw new OutputError(
      `run ${solved.tag}`,
      solved.problem?.message ?? 'no route',
      'a route that can be solved',
    )
  return solved.route
}

/** The run's finished tube, or the reason why it has none. @throws OutputError */
export const finishedOrThrow = (solved: SolvedRun): FinishedTube => finishedTube(routeOrThrow(solved), solved)

/**
 * Runs as hollow tubes from cut end to cut end: the insertion into the fittings is part of the tube.
 *
 * @throws OutputError for a run without a route, an overrun (negative) straight, a wall that fills the bore,
 *   or a CLR that the tube's own radius overruns: none of them is a solid.
 */
export function solidTubes(document: SkidDocument, solved: readonly SolvedRun[]): SolidTube[] {
  return solved.map(s => {
    const run = runOf(document, s.runId)
    if (run === null) throw new OutputError(`run ${s.tag}`, 'no such run', 'a run of the document')
    const { od, wall, material } = run.tube
    if (!(od > 0 && wall > 0 && 2 * wall < od))
      throw new OutputError(`run ${s.tag}: tube`, `OD ${od} and wall ${wall} mm`, 'a tube with a bore')
    const { pieces } = finishedOrThrow(s)
    for (const p of pieces) {
      if (p.kind === 'line' && p.to - p.from < -NO_STRAIGHT_MM)
        throw new OutputError(
          `run ${s.tag}: straight ${p.straight + 1}`,
          `${(p.to - p.from).toFixed(3)} mm (too short for its bends)`,
          'a straight of 0 mm or more: this tube cannot be made',
        )
      if (p.kind === 'arc' && p.radius <= od / 2)
        throw new OutputError(
          `run ${s.tag}: bend ${p.bend + 1}`,
          `CLR ${p.radius} mm`,
          `more than ${od / 2} mm, half the OD`,
        )
    }
    const kept = pieces.filter(p => p.to - p.from >= NO_STRAIGHT_MM)
    return { runId: s.runId, tag: s.tag, od, wall, material, pieces: kept, length: lengthOf(kept) }
  })
}

const lengthOf = (pieces: readonly Piece[]) => pieces.reduce((sum, p) => sum + (p.to - p.from), 0)
