import type { Vec3 } from '../geometry/vec3.ts'
import type { Bender, Fitting, Run, RunEnd, SkidDocument, Springback, Tooling } from './types.ts'

export const fittingOf = (document: SkidDocument, end: RunEnd): Fitting | null =>
  end.kind === 'port' ? (document.fittings.find(f => f.id === end.fitting) ?? null) : null

/** Where the end is, mm; null when its fitting is not in the document. */
export const endPoint = (document: SkidDocument, end: RunEnd): Vec3 | null =>
  end.kind === 'free' ? end.at : (fittingOf(document, end)?.position ?? null)

export const runOf = (document: SkidDocument, id: string): Run | null =>
  document.runs.find(r => r.id === id) ?? null

export const benderOf = (document: SkidDocument, run: Run): Bender | null =>
  run.bender === null ? null : (document.benders.find(b => b.id === run.bender) ?? null)

/** ODs and CLRs this near are the same figure: rounding between inch and metric tables. mm. */
export const SAME_FIGURE_MM = 0.05

/** The bender's tooling for the run's OD and CLR, or null when it has none. */
export const toolingOf = (bender: Bender, run: Run): Tooling | null =>
  bender.tooling.find(
    t => Math.abs(t.od - run.tube.od) <= SAME_FIGURE_MM && Math.abs(t.clr - run.clr) <= SAME_FIGURE_MM,
  ) ?? null

/** The bender's springback record for the run's material, or null when it has none. */
export const springbackOf = (bender: Bender, run: Run): Springback | null =>
  bender.springback.find(s => s.material === run.tube.material) ?? null
