import type { Vec3 } from '../geometry/vec3.ts'
import type { Bender, Fitting, Run, RunEnd, SkidDocument, Springback, Tooling } from './types.ts'
import { isMeasured } from './unmeasured.ts'

export const fittingOf = (document: SkidDocument, end: RunEnd): Fitting | null =>
  end.kind === 'port' ? (document.fittings.find(f => f.id === end.fitting) ?? null) : null

/** Where the end is, mm; null when its fitting is not in the document. */
export const endPoint = (document: SkidDocument, end: RunEnd): Vec3 | null =>
  end.kind === 'free' ? end.at : (fittingOf(document, end)?.position ?? null)

export const fittingsById = (fittings: readonly Fitting[]): ReadonlyMap<string, Fitting> =>
  new Map(fittings.map(f => [f.id, f]))

export const runOf = (document: SkidDocument, id: string): Run | null =>
  document.runs.find(r => r.id === id) ?? null

export const benderOf = (document: SkidDocument, run: Run): Bender | null =>
  run.bender === null ? null : (document.benders.find(b => b.id === run.bender) ?? null)

/** ODs and CLRs this near are the same figure: rounding between inch and metric tables. mm. */
export const SAME_FIGURE_MM = 0.05

/** The bender's tooling nearest to the run's OD and CLR, measured or not; null when none is of the same figures. */
export function dieOf(bender: Bender, run: Run): Tooling | null {
  const off = (t: Tooling) => [Math.abs(t.od - run.tube.od), Math.abs(t.clr - run.clr)] as const
  let nearest: Tooling | null = null
  for (const t of bender.tooling) {
    const [od, clr] = off(t)
    if (od > SAME_FIGURE_MM || clr > SAME_FIGURE_MM) continue
    if (nearest === null || od + clr < off(nearest)[0] + off(nearest)[1]) nearest = t
  }
  return nearest
}

/** The same with all its figures measured, or null: nothing is worked out with one that is not. */
export function toolingOf(bender: Bender, run: Run): Tooling | null {
  const die = dieOf(bender, run)
  return die !== null && isMeasured(die) ? die : null
}

/** The bender's springback record for the run's material, or null when it has none. */
export const springbackOf = (bender: Bender, run: Run): Springback | null =>
  bender.springback.find(s => s.material === run.tube.material) ?? null
