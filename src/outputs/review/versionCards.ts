import type { VersionsComparison } from '../../checks/compareVersions.ts'
import type { Move } from '../../checks/largestMove.ts'
import type { SkidDocument } from '../../document/types.ts'
import { solveRun } from '../../solve/solveRun.ts'
import { changeValue } from '../compareText.ts'
import { type Box, GREY, moved, type PaperItem, words } from '../paper.ts'
import { gap, heading, sentences, type Unit } from '../sheetFlow.ts'
import { fitted } from '../titleBlock.ts'
import { spotOf, type Version } from './changeSpot.ts'
import type { Figures } from './names.ts'
import type { Scene } from './scene.ts'
import { placePicture, type VersionPicture, wholePicture } from './versionPicture.ts'

const TITLE = 6
const PICTURE = 46
const LEGEND = 5.5
const SPACE = 3
/** Share of the width that the whole run has beside the place where it changed. */
const WHOLE = 0.34
const HEIGHT = TITLE + PICTURE + LEGEND

/** What the pictures are drawn from. */
export interface BothVersions {
  readonly before: SkidDocument
  readonly after: SkidDocument
  /** Of the later version. */
  readonly scene: Scene
  /** What the earlier version is called. */
  readonly title: string
}

/** A picture of each run that is not where it was: as it is in whole lines and as it was dashed. */
export function versionCards(
  { runs, moves }: VersionsComparison,
  both: BothVersions,
  figures: Figures,
  w: number,
): Unit[] {
  const versions = (id: string) => ({ was: versionOf(both.before, id), is: versionOf(both.after, id) })
  const changed = runs.changed.flatMap(({ runId, tag, changes }): Unit[] => {
    const { was, is } = versions(runId)
    if (!was && !is) return []
    const move = moves.get(runId) ?? null
    const figure = move && figures.length(move.by)
    const close =
      was && is
        ? (box: Box) => placePicture(both.scene, runId, was, is, move && { move, figure: figure! }, box)
        : null
    // Another tag, service or bender only: there is nothing to see.
    if (was && is && !spotOf(was, is, move)) return []
    const [first] = changes
    const what = move
      ? `${move.point} moved ${figure}`
      : first
        ? `${first.what} from ${changeValue(first.before, first, figures.unit)} to ${changeValue(first.after, first, figures.unit)}`
        : 'changed'
    return [row(HEIGHT, [{ x: 0, card: cardOf(`${tag}: ${what}`, was, is, move, close, w) }])]
  })
  const half = (w - SPACE) / 2
  const single = (list: VersionsComparison['runs']['added'], word: string) =>
    list.flatMap(({ id, tag }) => {
      const { was, is } = versions(id)
      return was || is ? [cardOf(`${tag}: ${word}`, was, is, null, null, half)] : []
    })
  const ofOne = [...single(runs.added, 'added'), ...single(runs.removed, 'removed')]
  const pairs = ofOne.flatMap((card, i): Unit[] => {
    const beside = ofOne[i + 1]
    if (i % 2 === 1) return []
    return [row(HEIGHT, [{ x: 0, card }, ...(beside ? [{ x: half + SPACE, card: beside }] : [])])]
  })
  const cards = [...changed, ...pairs]
  if (cards.length === 0) return []
  return [
    heading(`Pictures of changed runs (${changed.length + ofOne.length})`, w),
    ...sentences([`Heavy lines: now. Dashed: ${both.title}. Thin and pale: what is near now.`], w).map(
      (unit): Unit => ({ ...unit, keepWithNext: true }),
    ),
    gap(1),
    ...cards,
  ]
}

function versionOf(document: SkidDocument, id: string): Version | null {
  const run = document.runs.find(r => r.id === id)
  const { route } = run ? solveRun(document, run) : { route: null }
  return run && route ? { route, od: run.tube.od } : null
}

type Close = (box: Box) => VersionPicture | null
type Card = (x: number, y: number) => readonly PaperItem[]

const row = (height: number, cards: readonly { readonly x: number; readonly card: Card }[]): Unit => ({
  height,
  draw: (x, y) => cards.flatMap(c => c.card(x + c.x, y)),
})

/** Title, the whole run, and beside it, where there is anything to see there, the place where it changed most. */
function cardOf(
  title: string,
  was: Version | null,
  is: Version | null,
  move: Move | null,
  close: Close | null,
  w: number,
): Card {
  return (x, y) => {
    const name = fitted(title, w, 3.2, 2.4)
    const left = close ? w * WHOLE : w
    const whole = wholePicture(was, is, move, { x: 0, y: 0, w: left, h: PICTURE })
    const items: PaperItem[] = [
      words(x, y + 4.2, name.text, name.size, { bold: true }),
      ...moved(whole.items, x, y + TITLE),
      words(x, y + TITLE + PICTURE + 3, `The whole run: ${whole.view}`, 2.4, { ink: GREY }),
    ]
    const right = x + left + SPACE
    const there = close?.({ x: 0, y: 0, w: w - left - SPACE, h: PICTURE })
    if (there)
      items.push(
        ...moved(there.items, right, y + TITLE),
        words(right, y + TITLE + PICTURE + 3, `Where it changed most: ${there.view}`, 2.4, { ink: GREY }),
      )
    return items
  }
}
