import { housingFindings } from '../bender/housingCheck.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { clearanceFindings } from '../skid/clearanceFindings.ts'
import { type ModelTrees, modelBodies } from '../skid/models/modelBodies.ts'
import { modelFindings } from '../skid/models/modelFindings.ts'
import type { SolvedRun } from '../solve/types.ts'
import { runChecks, worstFirst } from './runChecks.ts'

/** Model files' trees by `treesKey`, and why one is not among them, where it is another reason than that the file is missing. */
interface Models {
  readonly trees: ModelTrees
  readonly why?: ReadonlyMap<string, string>
}
const NO_MODELS: Models = { trees: new Map() }

/**
 * Everything that is checked about a document: runs by themselves, what they come near, and what they hit at the bender.
 *
 * @param models of the document's model files; a model whose trees are not among them is not checked and a finding
 *   says so.
 */
export const allFindings = (
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  models: Models = NO_MODELS,
): Finding[] =>
  worstFirst([...findingsOffBender(document, solvedRuns, models), ...housingFindings(document, solvedRuns)])

/** The same without what runs hit at the bender: what holds in whatever order the bends are made. Worst first. */
export function findingsOffBender(
  document: SkidDocument,
  solvedRuns: readonly SolvedRun[],
  { trees, why }: Models = NO_MODELS,
): Finding[] {
  const models = modelBodies(document, trees)
  return worstFirst([
    ...runChecks(document, solvedRuns).findings,
    ...clearanceFindings(document, solvedRuns, models.bodies),
    ...modelFindings(models, why),
  ])
}
