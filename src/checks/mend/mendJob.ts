import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { MeshBody } from '../../skid/parts.ts'
import type { Finding } from '../finding.ts'
import { mendGap } from './mendGap.ts'
import type { Mends } from './mendTypes.ts'

export interface MendRequest {
  /** Answers carry it back: only those to the newest request count. */
  readonly serial: number
  readonly document: SkidDocument
  readonly finding: Finding
  readonly meshes: readonly MeshBody[]
  /** Decides what a round figure is. */
  readonly unit: LengthUnit
}
export type MendAnswer = { readonly serial: number } & (
  | { readonly kind: 'progress'; readonly done: number }
  | { readonly kind: 'found'; readonly mends: Mends }
  | { readonly kind: 'failed'; readonly reason: string }
)

/** Between two words of progress. Milliseconds. */
const TELL_MS = 80

/** Looks for the ways to mend a finding, telling how far it is (0 … 1) on the way. Never throws. */
export function answerMend(
  { serial, document, finding, meshes, unit }: MendRequest,
  tell: (answer: MendAnswer) => void,
): void {
  try {
    const search = mendGap(document, finding, meshes, unit)
    let told = performance.now()
    for (;;) {
      const step = search.next()
      if (step.done) {
        tell({ serial, kind: 'found', mends: step.value })
        return
      }
      if (performance.now() - told < TELL_MS) continue
      told = performance.now()
      tell({ serial, kind: 'progress', done: step.value })
    }
  } catch (error) {
    tell({ serial, kind: 'failed', reason: error instanceof Error ? error.message : String(error) })
  }
}
