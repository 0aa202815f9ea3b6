import { compareVersions } from '../../checks/compareVersions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { namesOfBoth } from '../../outputs/compareText.ts'
import { changesUnits } from '../../outputs/review/changes.ts'
import { figuresIn } from '../../outputs/review/names.ts'
import type { ReviewOptions } from '../../outputs/review/reviewSheets.ts'
import { clearanceStore } from '../../store/clearance.ts'
import { compareStore } from '../../store/compareStore.ts'
import { meshBodiesOf } from '../../store/meshBodies.ts'

/** What the report says of a document, with the version that it is compared with and why its checks are not through. */
export function reportOptions(
  document: SkidDocument,
  findings: readonly Finding[],
  complete: boolean,
  unit: LengthUnit,
): ReviewOptions {
  const { earlier, checked } = compareStore.getState()
  const both = complete && checked.state === 'done' ? { before: checked.findings, after: findings } : null
  const found = earlier && compareVersions(earlier.document, document, both)
  return {
    unit,
    date: new Date().toISOString().slice(0, 19),
    findings,
    pairs: clearanceStore.getState().pairs,
    meshes: meshBodiesOf(document).bodies,
    pending: complete ? '' : 'checks of clearance or of the bender were still running when this was made',
    changes:
      earlier && found
        ? (w, scene) =>
            changesUnits(
              found,
              {
                title: earlier.name,
                name: namesOfBoth(earlier.document, document),
                document: earlier.document,
                now: document,
              },
              figuresIn(unit),
              w,
              scene,
            )
        : null,
  }
}
