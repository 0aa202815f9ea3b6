import type { Lead } from '../bench/layOut.ts'
import { materialOf } from '../catalogue/materials.ts'
import { type Decided, decide, isOpen } from '../checks/decisions.ts'
import type { Finding } from '../checks/finding.ts'
import { fittingOf } from '../document/lookUp.ts'
import { formatAngle, formatLength, fractionError, type LengthUnit } from '../document/quantity.ts'
import type { RunEnd, SkidDocument } from '../document/types.ts'
import { endToEnd } from '../solve/centreLine.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, benchRun } from './benchLayout.ts'
import { commonScale, drawView } from './drawView.ts'
import { notInFont } from './helvetica.ts'
import { BLACK, type Box, moved, type PaperItem, type PaperPage, RED, rectangle, words } from './paper.ts'
import { runCode } from './runCode.ts'
import { facts, flow, gap, heading, sentences, table, type Unit } from './sheetFlow.ts'
import { routeOrThrow } from './solidTubes.ts'
import { fitted, TITLE_HEIGHT, TITLE_WIDTH, type TitleBlock, titleBlock } from './titleBlock.ts'
import { turnWords } from './turnWords.ts'
import { ISOMETRIC, squareViews, type View } from './views.ts'
import { writePdf } from './writePdf.ts'

export type PaperSize = 'A4' | 'A3' | 'Letter'

/** Width and height as the sheet stands, mm: A4 and Letter upright, A3 lying. */
const SIZES: Record<PaperSize, readonly [number, number]> = {
  A4: [210, 297],
  A3: [420, 297],
  Letter: [215.9, 279.4],
}
const BINDING = 20
const EDGE = 10
/** Between the frame and what is in it, mm. */
const INSET = 2.5
/** Height of the isometric, and most height of the square views together, mm. */
const VIEW_HEIGHT: Record<PaperSize, readonly [number, number]> = {
  A4: [82, 150],
  A3: [104, 160],
  Letter: [72, 130],
}

/** Figures that the part is measured against; the shop's own, printed as given. */
export interface SheetTolerances {
  /** ± mm on straights and overall. */
  readonly length: number
  /** ± degrees on bend angles. */
  readonly angle: number
  /** ± degrees on turns. */
  readonly turn: number
  /** ± mm at the far end. */
  readonly ends: number
}
/** Invented for the demo: a shop puts its own here. */
export const DEMO_TOLERANCES: SheetTolerances = { length: 1, angle: 0.5, turn: 1, ends: 3 }

export interface SheetOptions {
  readonly paper?: PaperSize
  readonly unit?: LengthUnit
  /** For fractions: nearest one of this many parts of an inch, 16 or 32. Default 32. */
  readonly fractionOf?: number
  readonly lead?: Lead
  readonly titleBlock?: Partial<TitleBlock>
  /** ISO 8601 date-time of making, for the file and, when the block has none, the date of issue. */
  readonly date: string
  /** Findings of the whole document, or null when the checks were not run: the sheet then says so. */
  readonly findings: readonly Finding[] | null
  /** Who lets the sheet go out although findings are open, and why. */
  readonly override?: { readonly by: string; readonly reason: string } | null
  readonly tolerances?: SheetTolerances
}

/** The sheet of one run as pages of paper. @throws OutputError when the run has no route. */
export function sheetPages(document: SkidDocument, solved: SolvedRun, options: SheetOptions): PaperPage[] {
  const { paper = 'A4', unit = 'mm', fractionOf = 32, lead = 'A' } = options
  const route = routeOrThrow(solved)
  const bench = benchRun(document, solved, lead)
  const { run } = bench
  const block: TitleBlock = {
    owner: '',
    number: run.tag,
    title: `Tube run ${run.tag}${run.service ? `, ${run.service}` : ''}`,
    creator: '',
    approver: '',
    date: options.date.slice(0, 10),
    revision: '',
    documentType: 'Fabrication sheet',
    ...options.titleBlock,
  }
  const [width, height] = SIZES[paper]
  const across = paper === 'A3' ? 2 : 1
  const frame: Box = { x: BINDING, y: EDGE, w: width - BINDING - EDGE, h: height - 2 * EDGE }
  const space = 8
  const w = (frame.w - 2 * INSET - (across - 1) * space) / across
  const columns = (index: number): Box => {
    const place = index % across
    const withBlock = place === across - 1
    return {
      x: frame.x + INSET + place * (w + space),
      y: frame.y + 1,
      w,
      h: frame.h - 1 - (withBlock ? TITLE_HEIGHT + 2 : 0),
    }
  }

  const written: number[] = []
  const length = (mm: number) => {
    written.push(mm)
    return unit === 'mm'
      ? formatLength(mm, unit, { digits: 1, fixed: true })
      : formatLength(mm, unit, { fractionOf, digits: 3, fixed: unit === 'in' })
  }
  const withUnit = (mm: number) => `${length(mm)} ${unit === 'mm' ? 'mm' : 'in'}`
  const decided = options.findings
    ? decide(
        options.findings.filter(f => f.where.run === run.id || f.where.other === run.id),
        document.acceptances,
      ).decided
    : null
  const units: Unit[] = []
  units.push(masthead(bench, solved, decided, options, w))
  if (document.invented)
    units.push(...sentences(['Invented demo data: not a real job, and no real machine.'], w, '!'))
  units.push(...facts(keyFacts(document, bench, solved, lead, withUnit, unit === 'mm'), w, 4))
  units.push(gap(2), ...bendTable(bench, solved, lead, w, length))
  type Picture = readonly [
    view: View,
    height: number,
    dimensions: readonly number[],
    legs: boolean,
    scale?: number,
  ]
  const picture = ([view, h, dimensions, legs, scale]: Picture): Unit[] => {
    const { items, notes } = drawView(
      route,
      view,
      { x: 0, y: 0, w, h: h - 2 },
      { od: run.tube.od, length, dimensions, legs, ...(scale === undefined ? {} : { scale }) },
    )
    const unit: Unit = { height: h, draw: (x, y) => moved(items, x, y), keepWithNext: notes.length > 0 }
    return [unit, ...sentences(notes, w)]
  }
  units.push(gap(2), ...picture([ISOMETRIC, VIEW_HEIGHT[paper][0], [], true]))
  const cautions = [
    ...cautionsOf(bench, solved, length),
    ...fontCaution([
      run.tag,
      run.service,
      run.tube.material,
      document.name,
      ...Object.values(block),
      bench.bender?.name ?? '',
    ]),
  ]
  units.push(heading('Set-up', w), ...sentences(setUp(bench, withUnit), w, 'box'))
  units.push(
    heading('Cautions', w),
    ...sentences(cautions.length > 0 ? cautions : ['None from the figures of this run.'], w, '!'),
  )
  const given = new Set<number>()
  const square = squareViews(route).map(view => {
    const dimensions = view.axes!.filter(k => !given.has(k))
    for (const k of dimensions) given.add(k)
    return { view, dimensions }
  })
  const { scale, heights } = commonScale(route, square, run.tube.od, w, VIEW_HEIGHT[paper][1])
  square.forEach(({ view, dimensions }, i) => {
    units.push(...picture([view, heights[i]! + 2, dimensions, false, scale]))
  })
  units.push(
    ...sentences(
      [
        'Running dimensions of the points from end A along the skid axes. Figures in parentheses are for reference: they follow from the table of bends.',
      ],
      w,
    ),
  )
  units.push(...pointTable(solved, w, length))
  units.push(...findingLines(decided, w))
  units.push(
    heading('Tolerances', w),
    ...sentences(
      toleranceLines(options.tolerances ?? DEMO_TOLERANCES, options.tolerances === undefined, solved),
      w,
    ),
  )
  if (unit === 'fraction') {
    const worst = Math.max(...written.map(x => Math.abs(fractionError(x, fractionOf))))
    units.push(
      ...sentences(
        [
          `Lengths are written to the nearest 1/${fractionOf} in; the largest error this makes on this sheet is ${worst.toFixed(2)} mm (${(worst / 25.4).toFixed(4)} in).`,
        ],
        w,
      ),
    )
  }

  const filled = flow(units, columns)
  const count = Math.ceil(filled.length / across)
  const unitName =
    unit === 'mm' ? 'mm, degrees' : unit === 'in' ? 'inches, degrees' : `inches to 1/${fractionOf}, degrees`
  return Array.from({ length: count }, (_, p): PaperPage => {
    const items: PaperItem[] = [rectangle(frame, { stroke: BLACK, width: 0.5 })]
    for (let c = 0; c < across; c++) items.push(...(filled[p * across + c] ?? []))
    const at: Box = {
      x: frame.x + frame.w - (across === 1 ? frame.w : TITLE_WIDTH),
      y: frame.y + frame.h - TITLE_HEIGHT,
      w: across === 1 ? frame.w : TITLE_WIDTH,
      h: TITLE_HEIGHT,
    }
    items.push(...titleBlock(at, block, `${p + 1} / ${count}`, unitName))
    return { width, height, items }
  })
}

/** The sheets of one or many runs as one PDF: the same document, options and date give the same bytes. */
export function sheetPdf(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: SheetOptions,
): Uint8Array {
  const tags = solved.map(s => s.tag).join(', ')
  return writePdf(
    solved.flatMap(s => sheetPages(document, s, options)),
    { title: `Fabrication sheet ${tags}`, author: options.titleBlock?.creator ?? '', date: options.date },
  )
}

/** What stands in the stamp, worst first. A check that was not run keeps the sheet from reading as released. */
export function releaseState(
  decided: readonly Decided[] | null,
  override: SheetOptions['override'],
): { text: string; detail: string; good: boolean } {
  if (decided === null) return { text: 'NOT RELEASED', detail: 'the checks were not run', good: false }
  const open = decided.filter(isOpen).length
  const notChecked = decided.filter(d => d.finding.severity === 'notChecked').length
  const unchecked = notChecked > 0 ? `${notChecked} check${notChecked === 1 ? '' : 's'} not run` : ''
  const findings = `${open} open finding${open === 1 ? '' : 's'}`
  if (open > 0 && override)
    return {
      text: 'RELEASED BY OVERRIDE',
      detail: [findings, unchecked, `${override.by}: ${override.reason}`].filter(Boolean).join(', '),
      good: false,
    }
  if (open > 0)
    return { text: 'NOT RELEASED', detail: [findings, unchecked].filter(Boolean).join(', '), good: false }
  if (notChecked > 0) return { text: 'NOT FULLY CHECKED', detail: unchecked, good: false }
  return { text: 'NO OPEN FINDINGS', detail: 'in the checks that were run', good: true }
}

function masthead(
  bench: BenchRun,
  solved: SolvedRun,
  decided: readonly Decided[] | null,
  options: SheetOptions,
  w: number,
): Unit {
  const state = releaseState(decided, options.override)
  const stampWidth = 74
  return {
    height: 18,
    draw: (x, y) => {
      const ink = state.good ? BLACK : RED
      const tag = fitted(bench.run.tag, w - stampWidth - 6, 8, 3)
      const about = fitted(
        `${bench.run.service || 'no service named'}   ${bench.run.quantity} off   code ${runCode(bench.run, solved)}`,
        w - stampWidth - 6,
        3,
      )
      const text = fitted(state.text, stampWidth - 4, 5.2, 3)
      const detail = fitted(state.detail, stampWidth - 4, 2.8)
      return [
        words(x, y + 8.2, tag.text, tag.size, { bold: true }),
        words(x, y + 14, about.text, about.size),
        rectangle({ x: x + w - stampWidth, y: y + 1.5, w: stampWidth, h: 13.5 }, { stroke: ink, width: 0.7 }),
        words(x + w - stampWidth / 2, y + 7.6, text.text, text.size, {
          bold: true,
          anchor: 'middle',
          ink,
        }),
        words(x + w - stampWidth / 2, y + 12.6, detail.text, detail.size, { anchor: 'middle', ink }),
      ]
    },
  }
}

function endName(document: SkidDocument, end: RunEnd): string {
  return end.kind === 'free' ? 'free end' : (fittingOf(document, end)?.name ?? end.fitting)
}

function keyFacts(
  document: SkidDocument,
  bench: BenchRun,
  solved: SolvedRun,
  lead: Lead,
  length: (mm: number) => string,
  inMm: boolean,
): [string, string][] {
  const { run, bender, tooling, layout } = bench
  const route = routeOrThrow(solved)
  const thin = (mm: number) =>
    length(1).endsWith('mm') ? `${Number(mm.toFixed(3))}` : `${(mm / 25.4).toFixed(3)}`
  const unit = inMm ? 'mm' : 'in'
  return [
    ['CUT LENGTH', length(bench.cutLength)],
    ['Tube, OD × wall', `${thin(run.tube.od)} × ${thin(run.tube.wall)} ${unit}`],
    ['Material', materialOf(run.tube.material)?.name ?? run.tube.material],
    ['Bend radius, CLR', `${thin(run.clr)} ${unit}`],
    ['Developed length', `(${length(route.developedLength)})`],
    ['Check: end to end, straight line', `(${length(endToEnd(route))})`],
    ['In the fitting, end A / end B', `${length(solved.insertionA)} / ${length(solved.insertionB)}`],
    ['Trim allowance', length(run.trimAllowance)],
    ['Bender', bender ? `${bender.name}, ${bender.hand}-hand` : 'none chosen'],
    [
      'Tooling',
      tooling
        ? `${tooling.id}, CLR ${thin(tooling.clr)} ${unit} (${tooling.clrMeasured === 'settled' ? 'on a settled bend' : 'of the die'})`
        : 'none for this OD and CLR',
    ],
    ['Leading end', layout ? `end ${lead} goes through the clamp first` : '-'],
    ['End A / end B', `${endName(document, run.endA)} / ${endName(document, run.endB)}`],
  ]
}

function bendTable(
  bench: BenchRun,
  solved: SolvedRun,
  lead: Lead,
  w: number,
  length: (mm: number) => string,
): Unit[] {
  const route = routeOrThrow(solved)
  const { layout } = bench
  const n = route.bends.length
  const end = lead
  if (n === 0) return [heading('Bends', w), ...sentences(['None: cut to length, deburr, clean.'], w)]
  const share = (parts: readonly number[]) => {
    const all = parts.reduce((a, b) => a + b, 0)
    return parts.map(p => (p / all) * w)
  }
  const widths = share([14, 27, 27, 24, 44, 20, 20])
  const columns = [
    { title: 'Bend', width: widths[0]!, bold: true },
    { title: `Mark from end ${end}, straight stock`, width: widths[1]!, right: true, bold: true },
    { title: 'or from the mark before', width: widths[2]!, right: true },
    { title: 'Straight before', width: widths[3]!, right: true },
    { title: 'Turn the tube first', width: widths[4]! },
    { title: 'Wanted °', width: widths[5]!, right: true },
    { title: 'DIAL °', width: widths[6]!, right: true, bold: true },
  ]
  const steps =
    layout?.steps ??
    route.bends.map((b, i) => ({
      bend: i,
      angle: b.angle,
      mark: null,
      markFromPrevious: null,
      turn: b.rotation,
      dial: null,
    }))
  const rows = steps.map((s, i) => {
    const straight = route.straights[lead === 'A' ? s.bend : s.bend + 1]!
    return [
      String(s.bend + 1),
      s.mark === null ? '-' : length(s.mark),
      i === 0 || s.markFromPrevious === null ? '-' : length(s.markFromPrevious),
      length(straight),
      turnWords(s.turn),
      formatAngle(s.angle, 1, true),
      s.dial === null ? 'trial' : formatAngle(s.dial, 1, true),
    ]
  })
  const last = route.straights[lead === 'A' ? n : 0]!
  return [
    heading('Bends, in the order of bending', w),
    ...table(columns, rows, 3.5),
    ...sentences(
      [
        `Last straight, to end ${lead === 'A' ? 'B' : 'A'}: ${length(last)}. Straights are between tangent points, without what goes into the fittings.`,
        'Turn as seen from the tail, looking towards the bender.',
        ...(layout ? ['Marks are for the die’s reference line and have its offset in them.'] : []),
      ],
      w,
    ),
  ]
}

function setUp(bench: BenchRun, length: (mm: number) => string): string[] {
  const { bender, tooling, springback, run } = bench
  const lines = [
    `Cut ${run.quantity === 1 ? 'one piece' : `${run.quantity} pieces`} to ${length(bench.cutLength)}; square, deburr, mark end A.`,
  ]
  if (bender && tooling) {
    lines.push(
      `${bender.name}: fit die and follower for ${tooling.id}; clamp grip ${length(tooling.clampGrip)}, follower ${length(tooling.followerLength)}, reference line ${length(Math.abs(tooling.referenceOffset))} ${tooling.referenceOffset >= 0 ? 'behind' : 'ahead of'} the tangent point.`,
    )
    lines.push(
      'Set the follower gap to about 10 mm (3/8 in) before the first bend (common practice, no source).',
    )
  }
  lines.push(
    springback
      ? `Springback is in the dial figures: ${formatAngle(springback.offset, 2)}° + ${formatAngle(springback.perDegree, 4)} per degree${springback.range ? `, from trial bends of ${formatAngle(springback.range[0])}° to ${formatAngle(springback.range[1])}°` : ', assumed and not from trial bends'}.`
      : 'Make a trial bend first: stop 5° short, measure, correct, go on (common practice, no source).',
  )
  lines.push('Check the first bend’s angle and way before the second; check end to end when done.')
  return lines
}

function cautionsOf(bench: BenchRun, solved: SolvedRun, length: (mm: number) => string): string[] {
  const route = routeOrThrow(solved)
  const out: string[] = []
  if (!bench.bender) out.push('No bender is chosen: marks and dial readings are not given.')
  else if (!bench.tooling)
    out.push(
      `${bench.bender.name} has no tooling for this OD and CLR: marks and dial readings are not given.`,
    )
  for (const w of bench.layout?.warnings ?? []) out.push(`${w[0]!.toUpperCase()}${w.slice(1)}.`)
  if (bench.springback && bench.springback.range === null)
    out.push('The springback is assumed: no trial bend stands behind it.')
  route.straights.forEach((s, i) => {
    if (s < 0) out.push(`Straight ${i + 1} is overrun by ${length(-s)}: this run cannot be made as drawn.`)
  })
  for (const k of route.passedThrough) out.push(`Point ${k} is no bend: the tube goes straight through it.`)
  if (route.bends.length === 0) return out
  const turns = route.bends.map(b => b.rotation).filter(r => r !== null)
  if (turns.some(r => r < 0) && turns.some(r => r > 0))
    out.push('Turns go both ways: read the direction of each.')
  return out
}

const fontCaution = (texts: readonly string[]): string[] => {
  const lost = notInFont(texts.join(' ').replace(/[\r\n\t]/g, ' '))
  return lost.length > 0
    ? [
        `${lost.length} character${lost.length === 1 ? '' : 's'} of the names used here cannot be printed in this sheet’s font; each stands as a question mark.`,
      ]
    : []
}

function pointTable(solved: SolvedRun, w: number, length: (mm: number) => string): Unit[] {
  const route = routeOrThrow(solved)
  const last = route.points.length - 1
  const part = w / 7
  const columns = [
    { title: 'Point', width: part, bold: true },
    ...['X', 'Y', 'Z'].map(title => ({ title, width: part * 1.3, right: true })),
    { title: 'Leg to next', width: part * 1.2, right: true },
    { title: 'Bend °', width: part * 0.9, right: true },
  ]
  const rows = route.points.map((p, i) => {
    const next = route.points[i + 1]
    const bend = route.bends.find(b => b.vertex === i)
    return [
      i === 0 ? 'A' : i === last ? 'B' : String(i),
      ...p.map(length),
      next ? `(${length(Math.hypot(next[0] - p[0], next[1] - p[1], next[2] - p[2]))})` : '',
      bend ? formatAngle(bend.angle, 1, true) : '',
    ]
  })
  return [heading('Points, skid axes', w), ...table(columns, rows)]
}

function findingLines(decided: readonly Decided[] | null, w: number): Unit[] {
  if (decided === null)
    return [heading('Findings', w), ...sentences(['The checks were not run for this sheet.'], w, '!')]
  const open = decided.filter(isOpen)
  const accepted = decided.filter(d => d.state === 'accepted')
  const notChecked = decided.filter(d => d.finding.severity === 'notChecked')
  const notes = decided.filter(d => d.finding.severity === 'note' && d.state !== 'accepted')
  const say = (d: Decided) =>
    d.acceptance
      ? `${d.finding.message}  [${d.acceptance.category}: ${d.acceptance.reason} - ${d.acceptance.by}, ${d.acceptance.on}${d.why ? `; open again: ${d.why}` : ''}]`
      : d.finding.message
  const part = (title: string, list: readonly Decided[], bullet: string): Unit[] =>
    list.length === 0 ? [] : [heading(`${title} (${list.length})`, w), ...sentences(list.map(say), w, bullet)]
  if (decided.length === 0)
    return [heading('Findings', w), ...sentences(['None: every check that was run is met.'], w)]
  return [
    ...part('Open findings', open, '!'),
    ...part('Not checked', notChecked, '?'),
    ...part('Accepted findings', accepted, '•'),
    ...part('Notes', notes, '•'),
  ]
}

function toleranceLines(t: SheetTolerances, demo: boolean, solved: SolvedRun): string[] {
  const route = routeOrThrow(solved)
  return [
    `Straights ±${t.length} mm, bend angles ±${t.angle}°, turns ±${t.turn}°, end to end ±${t.ends} mm (± ${(t.ends / 25.4).toFixed(3)} in).${demo ? ' Invented for the demo: the shop’s own figures go here.' : ''}`,
    `Largest effect of one angle at its tolerance, over ${endToEnd(route).toFixed(0)} mm end to end: up to ${(2 * endToEnd(route) * Math.sin((t.angle * Math.PI) / 360)).toFixed(1)} mm at the far end.`,
  ]
}
