import type { Lead } from '../bench/layOut.ts'
import { type Decided, isOpen, reopenedBecause } from '../checks/decisions.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Sentence } from '../document/sentence.ts'
import type { Run } from '../document/types.ts'
import { tapedLegs } from '../solve/finishedTube.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, firstLead, leadsMixed } from './benchLayout.ts'
import { heading, sentences, table, type Unit } from './sheetFlow.ts'
import { finishedOrThrow, routeOrThrow } from './solidTubes.ts'
import { turnWords } from './turnWords.ts'

/** Bends in the order of bending: mark, straight, turn in words, wanted angle and dial reading. */
export function bendTable(
  bench: BenchRun,
  solved: SolvedRun,
  w: number,
  length: (mm: number) => string,
): Unit[] {
  const route = routeOrThrow(solved)
  const { layout } = bench
  const n = route.bends.length
  const mixed = leadsMixed(layout)
  const end = firstLead(layout)
  if (n === 0) return [heading('Bends', w), ...sentences(['None: cut to length, deburr, clean.'], w)]
  const share = (parts: readonly number[]) => {
    const all = parts.reduce((a, b) => a + b, 0)
    return parts.map(p => (p / all) * w)
  }
  const widths = share([12, 27, 26, 24, 3, 44, 18, 20])
  const columns = [
    { title: 'Bend', width: widths[0]!, bold: true },
    {
      title: mixed ? 'Mark on straight stock, from' : `Mark from end ${end}, straight stock`,
      width: widths[1]!,
      right: true,
      bold: true,
    },
    { title: 'or from the mark before', width: widths[2]!, right: true },
    { title: 'Straight before', width: widths[3]!, right: true },
    // Air between a column that ends and one that begins at the same line.
    { title: '', width: widths[4]! },
    { title: 'Rotate tube before bend', width: widths[5]! },
    { title: 'Finished angle °', width: widths[6]!, right: true },
    { title: 'DIAL °', width: widths[7]!, right: true, bold: true },
  ]
  const steps =
    layout?.steps ??
    route.bends.map((b, i) => ({
      bend: i,
      lead: 'A' as Lead,
      turnedAround: false,
      angle: b.angle,
      mark: null,
      markFromPrevious: null,
      turn: b.rotation,
      dial: null,
    }))
  const open = new Set(route.straights.keys())
  const rows = steps.map((s, i) => {
    const before = s.lead === 'A' ? s.bend : s.bend + 1
    open.delete(before)
    return [
      String(s.bend + 1),
      s.mark === null ? '-' : `${length(s.mark)}${mixed ? ` ${s.lead}` : ''}`,
      i === 0 || s.markFromPrevious === null ? '-' : length(s.markFromPrevious),
      length(route.straights[before]!),
      '',
      `${s.turnedAround ? `swing end for end (flat), end ${s.lead} to the clamp; then ` : ''}${turnWords(s.turn)}`,
      formatAngle(s.angle, 1, true),
      s.dial === null ? 'trial' : formatAngle(s.dial, 1, true),
    ]
  })
  // Every straight but one stands before a bend; the one that is over is the last, or where both ends' bends meet.
  const over = [...open][0]!
  const last =
    over === n
      ? 'Last straight, to end B'
      : over === 0
        ? 'Last straight, to end A'
        : `Straight between bends ${over} and ${over + 1}`
  return [
    heading('Bends, in the order of bending', w),
    ...table(columns, rows, 3.5),
    ...sentences(
      [
        `${last}: ${length(route.straights[over]!)}. Straights are between tangent points, without what goes into the fittings.`,
        'Rotation as seen from the tail, looking towards the bender.',
        ...(layout ? ['Marks go on the die’s reference line; its offset is already included.'] : []),
      ],
      w,
    ),
  ]
}

/**
 * The tube's ends and the route's points in skid axes, where the tube goes in the port's face beside its end; and what
 * a tape reads on the finished tube from each end or bend to the next, for reference.
 */
export function pointTable(run: Run, solved: SolvedRun, w: number, length: (mm: number) => string): Unit[] {
  const tube = finishedOrThrow(solved)
  const { points, bends, faces } = tube
  const legs = tapedLegs(tube, run.tube.od)
  const last = points.length - 1
  const part = w / 100
  const columns = [
    { title: 'Point', width: part * 17, bold: true },
    { title: 'Bend', width: part * 7, bold: true },
    { title: '°', width: part * 9, right: true },
    ...['X', 'Y', 'Z'].map(title => ({ title, width: part * 12, right: true })),
    { title: 'Tape to next corner', width: part * 15, right: true },
    { title: 'Tape over backs', width: part * 16, right: true },
  ]
  const rows = points.flatMap((p, i) => {
    const bend = bends.findIndex(b => b.vertex === i)
    const end = i === 0 ? 'A' : i === last ? 'B' : null
    const face = faces.find(f => f.end === end)
    const leg = legs.find(l => l.from === (end ?? bend))
    const own = [
      end === null ? String(i + 1) : `End ${end}${face ? ' of the tube' : ''}`,
      bend < 0 ? '' : String(bend + 1),
      bend < 0 ? '' : formatAngle(bends[bend]!.angle, 1, true),
      ...p.map(length),
      leg ? `(${length(leg.toCorners)})` : '',
      !leg || bends.length === 0 ? '' : leg.overBacks === null ? '-' : `(${length(leg.overBacks)})`,
    ]
    if (!face) return [own]
    const beside = [`Port face ${face.end}`, '', '', ...face.at.map(length), '', '']
    return end === 'A' ? [own, beside] : [beside, own]
  })
  return [
    heading('Points in skid axes, and legs of the finished tube', w),
    ...table(columns, rows),
    ...sentences(
      [
        'Tape from the tube’s own ends, insertion included: to the corner, where the centre lines of two legs meet, or over the backs of the bends. A bend under 90° has no back to measure over.',
      ],
      w,
    ),
  ]
}

/** Open, not checked, accepted (with who and why) and noted, each under its own heading. */
export function findingLines(
  decided: readonly Decided[] | null,
  w: number,
  said: (sentence: Sentence) => string,
): Unit[] {
  if (decided === null)
    return [heading('Findings', w), ...sentences(['The checks were not run for this sheet.'], w, '!')]
  const open = decided.filter(isOpen)
  const accepted = decided.filter(d => d.state === 'accepted')
  const notChecked = decided.filter(d => d.finding.severity === 'notChecked')
  const notes = decided.filter(d => d.finding.severity === 'note' && d.state !== 'accepted')
  const say = (d: Decided) =>
    d.acceptance
      ? `${said(d.finding.sentence)}  [${d.acceptance.category}: ${d.acceptance.reason} - ${d.acceptance.by}, ${d.acceptance.on}${d.why ? `; open again: ${said(reopenedBecause(d))}` : ''}]`
      : said(d.finding.sentence)
  const part = (title: string, list: readonly Decided[], bullet: string): Unit[] =>
    list.length === 0 ? [] : [heading(`${title} (${list.length})`, w), ...sentences(list.map(say), w, bullet)]
  if (decided.length === 0)
    return [heading('Findings', w), ...sentences(['None open. Every check that ran has passed.'], w)]
  return [
    ...part('Open findings', open, '!'),
    ...part('Not checked', notChecked, '?'),
    ...part('Accepted findings', accepted, '•'),
    ...part('Notes', notes, '•'),
  ]
}
