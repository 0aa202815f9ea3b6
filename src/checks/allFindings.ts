import { housingFindings } from '../bench/housingCheck.ts'
import type { SkidDocument } from '../document/types.ts'
import { clearanceFindings } from '../skid/clearanceFindings.ts'
import { type ModelTrees, modelBodies } from '../skid/models/modelBodies.ts'
import { modelFindings } from '../skid/models/modelFindings.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { Finding } from './finding.ts'
import { runChecks, worstFirst } from './runChecks.ts'

/**
 * Everything that is checked about a document: runs by themselves, what they come near, and what they hit at the bender.
 *
 * @param trees of the document's model files, by `treesKey`; a model whose trees are not among them is not checked and
 *   a finding says so. `why` says why, where it is another reason than that the file is missing.
 */
export function allFindings(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  { trees, why }: { readonly trees: ModelTrees; readonly why?: ReadonlyMap<string, string> } = {
    trees: new Map(),
  },
): Finding[] {
  const models = modelBodies(document, trees)
  return worstFirst([
    ...runChecks(document, solvedRuns).findings,
    ...clearanceFindings(document, solvedRuns, models.bodies),
    ...modelFindings(models, why),
    ...housingFindings(document, solvedRuns),
  ])
}
