import { fittingKind } from '../catalogue/fittingKinds.ts'
import { tubeSize } from '../catalogue/tubeSizes.ts'
import { knownBender } from '../document/knownBenders.ts'
import { joined, mm, type Sentence, say, told } from '../document/sentence.ts'
import type { Bender, Fitting, Run, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { finding } from './runContext.ts'

/** A document keeps its row's figures exactly; this is over any rounding of inches and under any real change. mm */
const SAME_ROW_MM = 0.001

type Figures = readonly (readonly [name: string, here: number | null, table: number | null | undefined])[]

/** Are the figures of ports and benders still those of the table they were taken from? The document's are used. */
export const partsChanged = (document: SkidDocument): Finding[] => [
  ...document.fittings.flatMap(fittingChanged),
  ...document.benders.flatMap(benderChanged),
]

/** The same question about a run's tube. */
export function tubeChanged(run: Run): Finding[] {
  const { catalogueId, od, wall } = run.tube
  if (catalogueId === null) return []
  const row = tubeSize(catalogueId)
  const said = differences(`the tube size "${catalogueId}"`, row !== null, [
    ['OD', od, row?.od],
    ['wall', wall, row?.wall],
  ])
  return said.map(sentence =>
    finding(run, {
      rule: 'catalogueChanged',
      severity: 'note',
      parts: [],
      where: { kind: 'run', index: null },
      sentence,
    }),
  )
}

function fittingChanged(fitting: Fitting): Finding[] {
  if (fitting.catalogueId === null) return []
  const row = fittingKind(fitting.catalogueId)
  return ofDocument(
    fitting.id,
    differences(`${fitting.name}: the fitting "${fitting.catalogueId}"`, row !== null, [
      ['insertion depth', fitting.insertionDepth, row?.insertionDepth],
      ['minimum straight', fitting.straightNeeded, row?.straightNeeded],
      ['tube OD', fitting.tubeOd, row?.tubeOd],
    ]),
  )
}

function benderChanged(bender: Bender): Finding[] {
  if (bender.catalogueId === null) return []
  const row = knownBender(bender.catalogueId)?.bender
  const figures = bender.tooling.flatMap((t): Figures => {
    const same = row?.tooling.find(r => r.id === t.id)
    if (!same) return []
    return [
      [`${t.id} CLR`, t.clr, same.clr],
      [`${t.id} clamp grip`, t.clampGrip, same.clampGrip],
      [`${t.id} follower`, t.followerLength, same.followerLength],
      [`${t.id} reference offset`, t.referenceOffset, same.referenceOffset],
    ]
  })
  return ofDocument(
    bender.id,
    differences(`${bender.name}: the bender "${bender.catalogueId}"`, row !== undefined, figures),
  )
}

/** One sentence when the row is gone or any figure differs, else none. */
function differences(what: string, inTable: boolean, figures: Figures): Sentence[] {
  if (!inTable) return [say`${what} is no longer in the table; the document's own figures are used`]
  const written = (n: number | null | undefined, beside: number | null | undefined) =>
    typeof n === 'number' ? mm(n, beside ?? n) : 'any'
  const changed = figures.filter(
    ([, here, table]) =>
      (here === null) !== (table === null) || Math.abs((here ?? 0) - (table ?? 0)) > SAME_ROW_MM,
  )
  if (changed.length === 0) return []
  const list = changed.map(
    ([name, here, table]) => say`${name} ${written(here, table)} here, ${written(table, here)} there`,
  )
  return [say`${what} differs from the table: ${joined(list, '; ')}. The document's own figures are used`]
}

function ofDocument(id: string, sentences: readonly Sentence[]): Finding[] {
  return sentences.map(sentence => ({
    id: `catalogueChanged:${id}`,
    rule: 'catalogueChanged',
    severity: 'note',
    where: { run: null, kind: 'run', index: null },
    measured: null,
    limit: null,
    unit: '',
    ...told(sentence),
  }))
}
