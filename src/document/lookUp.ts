import type { Vec3 } from '../geometry/vec3.ts'
import type { Bender, Fitting, Model, Run, RunEnd, SkidDocument, Tooling } from './types.ts'

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

/** The model with this id, or the one whose part it names as `model/key`; null when there is none. */
export const modelOf = (document: SkidDocument, id: string): Model | null =>
  document.models.find(m => m.id === id || id.startsWith(`${m.id}/`)) ?? null

/**
 * What a finding's party is called: a run's tag, the name of a solid, fitting, support or model, a model's part as
 * `Model: part` by the last piece of its key; the id itself when the document no longer has it.
 */
export function nameOf(document: SkidDocument, id: string): string {
  const run = runOf(document, id)
  if (run) return run.tag
  for (const list of [document.solids, document.fittings, document.supports, document.models]) {
    const found = (list as readonly { readonly id: string; readonly name: string }[]).find(x => x.id === id)
    if (found) return found.name
  }
  const model = modelOf(document, id)
  if (!model) return id
  const last = id.slice(id.lastIndexOf('/') + 1)
  return `${model.name}: ${last.replace(/%(25|3A|2F|23)/g, (_, hex) => String.fromCharCode(Number.parseInt(hex, 16)))}`
}
