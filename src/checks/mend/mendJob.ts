import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import type { MeshBody } from '../../skid/parts.ts'
import { mendGap } from './mendGap.ts'
import type { Mends } from './mendTypes.ts'

export interface MendRequest {
  readonly document: SkidDocument
  readonly finding: Finding
  readonly meshes: readonly MeshBody[]
  /** Decides what a round figure is. */
  readonly unit: LengthUnit
}

/** Between two words of progress. Milliseconds. */
const TELL_MS = 80

/** Looks for the ways to mend a finding, telling how far it is (0 … 1) on the way. */
export function answerMend(
  { document, finding, meshes, unit }: MendRequest,
  tell: (done: number) => void,
): Mends {
  const search = mendGap(document, finding, meshes, unit)
  let told = performance.now()
  for (;;) {
    const step = search.next()
    if (step.done) return step.value
    if (performance.now() - told < TELL_MS) continue
    told = performance.now()
    tell(step.value)
  }
}
