import type { SkidDocument } from '../document/types.ts'
import { visibleText } from '../document/visibleText.ts'
import { nameOfBody } from './models/nameOfBody.ts'

const names = new WeakMap<SkidDocument, ReadonlyMap<string, string>>()

/**
 * What a part is called by its id, to be read: a run's tag, the name of a solid, fitting, support, model or part of a model; the
 * id itself when the document no longer has it.
 */
export function partName(document: SkidDocument, id: string): string {
  let known = names.get(document)
  if (!known) {
    const { runs, solids, fittings, supports } = document
    known = new Map([
      ...[...supports, ...fittings, ...solids].map(part => [part.id, visibleText(part.name)] as const),
      ...runs.map(run => [run.id, visibleText(run.tag)] as const),
    ])
    names.set(document, known)
  }
  return known.get(id) ?? visibleText(nameOfBody(document, id) ?? id)
}
