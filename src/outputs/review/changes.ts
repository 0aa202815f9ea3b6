import type { Change } from '../../checks/change.ts'
import { isSame, type VersionsComparison } from '../../checks/compareVersions.ts'
import type { SkidDocument } from '../../document/types.ts'
import { changeValue, findingGroups } from '../compareText.ts'
import { gap, heading, sentences, table, type Unit } from '../sheetFlow.ts'
import type { Figures } from './names.ts'
import type { Scene } from './scene.ts'
import { versionCards } from './versionCards.ts'

const SMALL = 2.6

/** An earlier version, and what its pictures are drawn from. */
export interface Earlier {
  readonly title: string
  /** The name of a part of either version. */
  readonly name: (id: string) => string
  readonly document: SkidDocument
  readonly now: SkidDocument
}

/** What has changed since an earlier version: runs with every figure that moved and pictures, other parts, findings. */
export function changesUnits(
  found: VersionsComparison,
  earlier: Earlier,
  figures: Figures,
  w: number,
  scene: Scene,
): Unit[] {
  const { runs, moves, others } = found
  const columns = (title: string) => [
    { title, width: w * 0.34, bold: true },
    { title: 'Figure', width: w * 0.26 },
    { title: 'Before', width: w * 0.2, right: true },
    { title: 'Now', width: w * 0.2, right: true },
  ]
  const rows = (name: string, changes: readonly Change[]) =>
    changes.map((c, i) => [
      i === 0 ? name : '',
      c.what,
      changeValue(c.before, c, figures.unit),
      changeValue(c.after, c, figures.unit),
    ])
  const names = (list: readonly string[]) => list.join(', ')
  const units: Unit[] = [
    heading(`Changes since ${earlier.title}`, w),
    ...sentences(
      [
        isSame(found)
          ? 'The documents are the same.'
          : `Runs: ${runs.added.length} added, ${runs.removed.length} removed, ${runs.changed.length} changed, ${runs.same} the same.`,
        ...(runs.added.length > 0 ? [`Runs added: ${names(runs.added.map(r => r.tag))}`] : []),
        ...(runs.removed.length > 0 ? [`Runs removed: ${names(runs.removed.map(r => r.tag))}`] : []),
        ...others.parts.flatMap(({ kind, added, removed }) => [
          ...(added.length > 0 ? [`${kind}s added: ${names(added.map(p => p.name))}`] : []),
          ...(removed.length > 0 ? [`${kind}s removed: ${names(removed.map(p => p.name))}`] : []),
        ]),
      ],
      w,
    ),
  ]
  if (runs.changed.length > 0)
    units.push(
      gap(2),
      ...table(
        columns('Changed runs'),
        runs.changed.flatMap(({ runId, tag, changes }) => {
          const move = moves.get(runId)
          return rows(move ? `${tag}: ${move.point} moved ${figures.length(move.by)}` : tag, changes)
        }),
        SMALL,
      ),
    )
  const cards = versionCards(
    found,
    { before: earlier.document, after: earlier.now, scene, title: earlier.title },
    figures,
    w,
  )
  if (cards.length > 0) units.push(gap(2), ...cards)
  const parts = [
    ...others.settings.map((c): [string, readonly Change[]] => ['document', [c]]),
    ...others.parts.flatMap(({ kind, changed }) =>
      changed.map((p): [string, readonly Change[]] => [`${kind}: ${p.name}`, p.changes]),
    ),
  ]
  if (parts.length > 0)
    units.push(
      gap(2),
      ...table(
        columns('Changed parts'),
        parts.flatMap(([n, c]) => rows(n, c)),
        SMALL,
      ),
    )
  units.push(gap(2))
  if (!found.findings)
    units.push(...sentences(['Findings were not compared: the earlier version was not checked.'], w, '?'))
  else {
    const groups = findingGroups(found, earlier.name, figures.unit)
    if (groups.length === 0)
      units.push(...sentences(['No finding appeared, went away or moved by more than 0.1.'], w))
    for (const [name, list] of groups)
      units.push(heading(`Findings: ${name} (${list.length})`, w), ...sentences(list, w))
  }
  return units
}
