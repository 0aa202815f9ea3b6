import { type PlacedSupport, placedSupports } from '../checks/supportsOnTube.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { SolvedRun } from '../solve/types.ts'
import { BLACK, type Box, LABEL, line, overlap, type PaperItem, words } from './paper.ts'
import { textWidth } from './paperFont.ts'
import type { Places } from './placeLabels.ts'
import { heading, sentences, table, type Unit } from './sheetFlow.ts'
import { routeOrThrow } from './solidTubes.ts'
import { type Frame, onPaper, project } from './views.ts'

/** A support as the drawing marks it: S1 is the first from end A. */
export interface SupportMark {
  readonly label: string
  readonly at: Vec3
  /** Unit, along the tube there. */
  readonly direction: Vec3
}

const placed = (document: SkidDocument, solved: SolvedRun): PlacedSupport[] =>
  placedSupports(document.supports, solved.runId, routeOrThrow(solved))

export const supportMarks = (document: SkidDocument, solved: SolvedRun): SupportMark[] =>
  placed(document, solved).map(({ support, direction }, i) => ({
    label: `S${i + 1}`,
    at: support.at,
    direction,
  }))

/** The run's supports with their place along the bent tube, and what stretch is asked for; nothing for neither. */
export function supportTable(
  document: SkidDocument,
  solved: SolvedRun,
  w: number,
  length: (mm: number) => string,
): Unit[] {
  const route = routeOrThrow(solved)
  const all = placed(document, solved)
  const span = document.supportSpan
  if (all.length === 0 && span === null) return []
  const asked =
    span === null
      ? 'No maximum span between supports is set.'
      : `Maximum span: ${length(span)} along the tube, from support to support or end.`
  if (all.length === 0) return [heading('Supports', w), ...sentences([`None. ${asked}`], w)]
  const columns = [
    { title: 'Support', width: w * 0.1, bold: true },
    { title: 'Name', width: w * 0.23 },
    { title: 'Type', width: w * 0.25 },
    { title: `Along the tube from ${start('A', solved.insertionA)}`, width: w * 0.16, right: true },
    { title: 'From previous', width: w * 0.13, right: true },
    { title: 'On', width: w * 0.13 },
  ]
  const rows = all.map(({ support, along, piece, holds }, i) => [
    `S${i + 1}`,
    support.name,
    support.type,
    length(along),
    length(along - (all[i - 1]?.along ?? 0)),
    `${piece.kind === 'arc' ? `bend ${piece.bend + 1}` : `straight ${piece.straight + 1}`}${holds ? '' : ', off it'}`,
  ])
  const rest = route.developedLength - all.at(-1)!.along
  return [
    heading('Supports', w),
    ...table(columns, rows),
    ...sentences(
      [
        `Along the centre line of the bent tube, from ${start('A', solved.insertionA)}; ${length(rest)} from the last to ${start('B', solved.insertionB)}. ${asked}`,
      ],
      w,
    ),
  ]
}

/** Where the route begins or ends: a port's face, or the tube's own end where it goes into nothing. */
const start = (end: 'A' | 'B', insertion: number) => `${insertion > 0 ? 'port face' : 'end'} ${end}`

type At = readonly [number, number]
/** Of the foot, from its tip to its base and half across, mm. */
const TALL = 2.2
const WIDE = 1.2

/** A small black foot at each support, on the side of the tube that has room, with its number. */
export function markSupports(
  marks: readonly SupportMark[],
  frame: Frame,
  half: number,
  items: PaperItem[],
  places: Places,
  notes: string[],
): void {
  const missing: string[] = []
  for (const { label, at, direction } of marks) {
    const p = onPaper(frame, at)
    const [r, u] = project(frame.view, direction)
    const l = Math.hypot(r, u)
    // Tube that comes towards the eye hides what it stands on: another view shows it.
    if (l < 0.2) continue
    const below = r >= 0 ? 1 : -1
    const w = textWidth(label, LABEL, true) + 0.6
    const candidates = [below, -below].flatMap(side => {
      // Square to the tube on paper, away from it.
      const [dx, dy] = [(side * u) / l, (side * r) / l]
      const tip: At = [p[0] + dx * half, p[1] + dy * half]
      const base: At = [tip[0] + dx * TALL, tip[1] + dy * TALL]
      const foot: Box = {
        x: Math.min(tip[0], base[0]) - WIDE,
        y: Math.min(tip[1], base[1]) - WIDE,
        w: Math.abs(dx) * TALL + 2 * WIDE,
        h: Math.abs(dy) * TALL + 2 * WIDE,
      }
      if (places.boxes.some(b => overlap(b, foot))) return []
      return [0, 1.5, 3, 5, 8].map(more => {
        const reach = TALL + 0.9 + more + (Math.abs(dx) * w + Math.abs(dy) * LABEL) / 2
        const centre: At = [tip[0] + dx * reach, tip[1] + dy * reach]
        const rim: At = [base[0] + dx * more, base[1] + dy * more]
        const box: Box = { x: centre[0] - w / 2, y: centre[1] - LABEL / 2, w, h: LABEL }
        return { box, leader: [base, rim] as const, centre, tip, foot, dx, dy }
      })
    })
    const found = places.first(candidates)
    if (!found) {
      missing.push(label)
      continue
    }
    const { tip, foot, dx, dy, centre } = found
    const [base, rim] = found.leader
    places.take(foot)
    items.push({
      kind: 'path',
      steps: [
        ['M', ...tip],
        ['L', base[0] - dy * WIDE, base[1] + dx * WIDE],
        ['L', base[0] + dy * WIDE, base[1] - dx * WIDE],
        ['Z'],
      ],
      fill: BLACK,
    })
    if (rim[0] !== base[0] || rim[1] !== base[1]) items.push(line(...base, ...rim, 0.13))
    items.push(words(centre[0], centre[1] + 0.36 * LABEL, label, LABEL, { bold: true, anchor: 'middle' }))
  }
  if (missing.length > 0) notes.push(`no room to mark ${missing.join(', ')}: see the table of supports`)
}
