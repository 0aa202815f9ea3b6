import { tapedLegs } from '../bender/tapedLegs.ts'
import { type Decided, isOpen, reopenedBecause } from '../checks/decisions.ts'
import { formatAngle } from '../document/quantity.ts'
import type { Sentence } from '../document/sentence.ts'
import type { Run } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import type { BenchRun } from './benchLayout.ts'
import type { PaperLengths } from './paperLengths.ts'
import { heading, sentences, table, type Unit } from './sheetFlow.ts'
import { finishedOrThrow, routeOrThrow } from './solidTubes.ts'
import { stepRows } from './stepRows.ts'
import { turnWords } from './turnWords.ts'

/** Bends in the order of bending with all that is done for each; without a bender, what the route alone says. */
export function bendTable(bench: BenchRun, solved: SolvedRun, w: number, lengths: PaperLengths): Unit[] {
  const { bends, straights } = routeOrThrow(solved)
  const { layout, bender } = bench
  if (bends.length === 0)
    return [heading('Bends', w), ...sentences(['None: cut to length, deburr, clean.'], w)]
  if (layout && bender) return stepRows({ ...bench, layout, bender }, solved, w, lengths)
  const columns = [
    { title: 'Bend', width: w * 0.1, bold: true },
    { title: 'Straight before', width: w * 0.25, right: true },
    // Air between a column that ends and one that begins at the same line.
    { title: '', width: w * 0.05 },
    { title: 'Rotation from previous bend', width: w * 0.4 },
    { title: 'Finished angle °', width: w * 0.2, right: true },
  ]
  const rows = bends.map((b, i) => [
    String(i + 1),
    lengths.length(straights[i]!),
    '',
    turnWords(b.rotation),
    formatAngle(b.angle, 1, true),
  ])
  return [
    heading('Bends, from end A', w),
    ...table(columns, rows, 3.5),
    ...sentences(
      [
        `Last straight, to end B: ${lengths.length(straights[bends.length]!)}. Straights run between tangent points; insertion is not included.`,
        'Rotation as seen looking along the tube from end A to end B.',
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
      leg && bends.length > 0 ? `(${length(leg.overBacks)})` : '',
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
        'Tape from the tube’s own ends, insertion included. Corner: where the centre lines of two legs meet. Back of a bend: where a straightedge along the outside of the next leg meets the outside of this one; over 90°, the outermost point of the bend.',
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
      ? `${said(d.finding.sentence)}  [${d.acceptance.category}: ${d.acceptance.reason} - ${d.acceptance.by}, ${d.acceptance.on}${d.why ? `; reopened: ${said(reopenedBecause(d))}` : ''}]`
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
