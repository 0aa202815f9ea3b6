import { NOT_FOR_PRESSURE } from '../../bender/cautions.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { runStates } from '../releaseState.ts'
import { gap, heading, sentences, type Unit } from '../sheetFlow.ts'
import { plural } from './summary.ts'

/** Tags that are listed for one state; the table of runs has them all. */
const MOST_TAGS = 60

/**
 * Which runs their sheets would print as released, and which not, by state; and what no report stands in for.
 *
 * @param findings of the whole document, or null when the checks are not through: no run is released then.
 */
export function releaseUnits(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  findings: readonly Finding[] | null,
  w: number,
): Unit[] {
  const groups = new Map<string, { readonly good: boolean; readonly tags: string[] }>()
  for (const { text, good, tag } of runStates(document, solved, findings)) {
    const group = groups.get(text) ?? { good, tags: [] }
    groups.set(text, group)
    group.tags.push(tag)
  }
  return [
    gap(2),
    heading('Release state of the runs', w),
    ...[...groups].flatMap(([text, { good, tags }]) =>
      sentences(
        [
          `${text}, ${plural(tags.length, 'run')}: ${tags.slice(0, MOST_TAGS).join(', ')}${tags.length > MOST_TAGS ? ` and ${tags.length - MOST_TAGS} more` : ''}.`,
        ],
        w,
        good ? '•' : '!',
      ),
    ),
    ...sentences(NOT_FOR_PRESSURE, w, '!'),
  ]
}
