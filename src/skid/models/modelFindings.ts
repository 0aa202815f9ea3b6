import { say, told } from '../../document/sentence.ts'
import type { Model } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import type { ModelBodies } from './modelBodies.ts'
import { treesKey } from './modelTypes.ts'

/**
 * What the check of models cannot say otherwise: files not at hand (not checked), parts left out by choice (a note for
 * each model), and parts that the document speaks of and the file no longer has (a warning for each).
 *
 * @param why by `treesKey`: why a file's triangles are not there, where it is another reason than that it is missing.
 */
export function modelFindings(
  { missing, leftOut, unknown }: ModelBodies,
  why: ReadonlyMap<string, string> = new Map(),
): Finding[] {
  return [
    ...missing.map(
      (model): Finding => ({
        ...about(model),
        id: `clearance:notChecked:${model.id}`,
        rule: 'clearanceNotChecked',
        severity: 'notChecked',
        ...told(say`${model.name}: clearance not checked, ${whyMissing(model, why)}.`),
      }),
    ),
    ...leftOut.map(
      ({ model, count, of }): Finding => ({
        ...about(model),
        id: `modelLeftOut:${model.id}`,
        rule: 'modelLeftOut',
        severity: 'note',
        ...told(say`${model.name}: ${countWords(count, of)} left out of the clearance check by choice.`),
      }),
    ),
    ...unknown.map(
      ({ model, key }): Finding => ({
        ...about(model),
        id: `modelPartGone:${model.id}/${key}`,
        rule: 'modelPartGone',
        severity: 'warning',
        ...told(
          say`${model.name}: its file ${model.fileName} has no part "${key}", which the document gives settings for; it is not checked with them.`,
        ),
      }),
    ),
  ]
}

/** Why a model is not measured, as half a sentence. */
export const whyMissing = (model: Model, why: ReadonlyMap<string, string> = new Map()): string =>
  `its file ${model.fileName} ${why.get(treesKey(model)) ?? 'is missing'}`

const about = (model: Model) => ({
  where: { run: null, kind: 'pair', index: null, other: model.id } as const,
  measured: null,
  limit: null,
  unit: '' as const,
})

const countWords = (count: number, of: number | null): string =>
  of === null || count === of
    ? `${of === null || of > 1 ? 'all of its parts are' : 'its one part is'}`
    : `${count} of its ${of} parts ${count === 1 ? 'is' : 'are'}`
