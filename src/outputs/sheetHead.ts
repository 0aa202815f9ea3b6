import { materialOf } from '../catalogue/materials.ts'
import type { Decided } from '../checks/decisions.ts'
import { dieOf, fittingOf } from '../document/lookUp.ts'
import { tubeSizeText } from '../document/tubeSizeText.ts'
import type { RunEnd, SkidDocument } from '../document/types.ts'
import { unmeasuredWords } from '../document/unmeasured.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, firstLead, leadsMixed, trimEnd } from './benchLayout.ts'
import { BLACK, GREY, moved, RED, rectangle, words } from './paper.ts'
import { wrapText } from './paperFont.ts'
import { qrMark } from './qrMark.ts'
import { type Override, releaseState } from './releaseState.ts'
import { runCode } from './runCode.ts'
import type { Unit } from './sheetFlow.ts'
import { finishedOrThrow, routeOrThrow } from './solidTubes.ts'
import { fitted } from './titleBlock.ts'

/** The stamp's small words on one line or two, as large as they fit; what is too long even so stands in full with the findings. */
function stampLines(detail: string, width: number): { text: string; size: number }[] {
  const one = fitted(detail, width, 2.8, 2.4)
  if (one.text === detail) return [one]
  const size = [2.5, 2.3, 2.1, 1.9].find(s => wrapText(detail, width, s).length <= 2) ?? 1.9
  const [first = '', ...rest] = wrapText(detail, width, size)
  return [{ text: first, size }, fitted(rest.join(' '), width, size)]
}

/** What a link of a sheet has in its fragment before the code; the page that it opens looks for it. */
export const SHEET_LINK = '#sheet='

/**
 * The run's tag, large, the stamp, and the sheet's code as a QR symbol: by itself, or as a link when it is known where
 * the app is. The link's fragment holds the code and nothing of the document.
 */
export function masthead(
  bench: BenchRun,
  solved: SolvedRun,
  decided: readonly Decided[] | null,
  override: Override | null | undefined,
  w: number,
  appUrl: string | null,
): Unit {
  const state = releaseState(solved, decided, override)
  const code = runCode(bench, solved)
  const qr = qrMark(appUrl === null ? code : `${appUrl.split('#')[0]}${SHEET_LINK}${code}`)
  const stampWidth = 74
  return {
    height: Math.max(22, qr.size + 1),
    draw: (x, y) => {
      const ink = state.good ? BLACK : RED
      const stamp = x + w - qr.size - stampWidth
      const room = stamp - x - 4
      const tag = fitted(bench.run.tag, room, 8, 3)
      const about = fitted(bench.run.service || 'no service named', room, 3)
      const off = fitted(`${bench.run.quantity} off   code ${code}`, room, 3)
      const text = fitted(state.text, stampWidth - 4, 5.2, 3)
      const details = stampLines(state.detail, stampWidth - 4)
      const opens = appUrl === null ? 'type this code under Bend' : 'opens this run under Bend'
      return [
        words(x, y + 8.2, tag.text, tag.size, { bold: true }),
        words(x, y + 14, about.text, about.size),
        words(x, y + 18.8, off.text, off.size),
        rectangle({ x: stamp, y: y + 1.5, w: stampWidth, h: 13.5 }, { stroke: ink, width: 0.7 }),
        words(stamp + stampWidth / 2, y + 7.6, text.text, text.size, {
          bold: true,
          anchor: 'middle',
          ink,
        }),
        ...details.map(({ text, size }, i) =>
          words(stamp + stampWidth / 2, y + (details.length > 1 ? 10.9 + 2.9 * i : 12.6), text, size, {
            anchor: 'middle',
            ink,
          }),
        ),
        words(stamp + stampWidth, y + 18.8, `QR: ${opens}`, 2.3, {
          anchor: 'end',
          ink: GREY,
        }),
        ...moved([qr.item], x + w - qr.size, y),
      ]
    },
  }
}

export function endName(document: SkidDocument, end: RunEnd): string {
  return end.kind === 'free' ? 'free end' : (fittingOf(document, end)?.name ?? end.fitting)
}

/** What stands in the place of a tooling that nothing is laid out with. */
function toolingMissing({ bender, run }: BenchRun): string {
  const die = bender && dieOf(bender, run)
  if (die) return `${die.id}: ${unmeasuredWords(die)} not measured`
  return bender ? 'none for this OD and CLR' : '-'
}

/** Name and value of what is cut, on what, with what. */
export function keyFacts(
  document: SkidDocument,
  bench: BenchRun,
  solved: SolvedRun,
  length: (mm: number) => string,
  inMm: boolean,
): [string, string][] {
  const { run, bender, tooling, layout } = bench
  const route = routeOrThrow(solved)
  const tube = finishedOrThrow(solved)
  const faces = tube.faces.length > 0 ? `; port faces (${length(tube.faceToFace)})` : ''
  const thin = (mm: number) =>
    length(1).endsWith('mm') ? `${Number(mm.toFixed(3))}` : `${(mm / 25.4).toFixed(3)}`
  const unit = inMm ? 'mm' : 'in'
  return [
    ['CUT LENGTH', length(bench.cutLength)],
    ['Tube, OD × wall', tubeSizeText(run.tube, inMm ? 'mm' : 'in')],
    ['Material', materialOf(run.tube.material)?.name ?? run.tube.material],
    ['Bend radius, CLR', `${thin(run.clr)} ${unit}`],
    ['Developed length', `(${length(route.developedLength)})`],
    ['Check: tube end to end, straight', `(${length(tube.endToEnd)})${faces}`],
    ['Insertion depth, end A / end B', `${length(solved.insertionA)} / ${length(solved.insertionB)}`],
    [
      'Trim allowance',
      layout && layout.trim > 0
        ? `${length(layout.trim)}, at end ${trimEnd(layout)}`
        : length(run.trimAllowance),
    ],
    ['Bender', bender ? `${bender.name}, ${bender.hand}-hand` : 'none chosen'],
    [
      'Tooling',
      tooling
        ? `${tooling.id}, CLR ${thin(tooling.clr)} ${unit} (${tooling.clrMeasured === 'settled' ? 'on a settled bend' : 'of the die'})`
        : toolingMissing(bench),
    ],
    [
      'Leading end',
      layout
        ? `end ${firstLead(layout)} goes through the clamp first${leadsMixed(layout) ? ', then turned end for end' : ''}`
        : '-',
    ],
    ['End A / end B', `${endName(document, run.endA)} / ${endName(document, run.endB)}`],
  ]
}
