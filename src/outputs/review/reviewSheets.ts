import { type Decided, decide, isOpen } from '../../checks/decisions.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import type { ClearancePair } from '../../skid/clearance.ts'
import { partName } from '../../skid/partName.ts'
import type { MeshBody } from '../../skid/parts.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { PaperSize } from '../fabricationSheet.ts'
import { BLACK, type Box, type PaperPage, rectangle } from '../paper.ts'
import { flow, gap, heading, sentences, type Unit } from '../sheetFlow.ts'
import { fontCaution } from '../sheetText.ts'
import { TITLE_HEIGHT, TITLE_WIDTH, type TitleBlock, titleBlock } from '../titleBlock.ts'
import { writePdf } from '../writePdf.ts'
import { gapCard, keySize } from './gapCard.ts'
import { keyPicture } from './keyPicture.ts'
import { acceptedList, type Listed, noteList, openList, staleList } from './lists.ts'
import { figuresIn } from './names.ts'
import { releaseUnits } from './releaseUnits.ts'
import { type Scene, sceneOf } from './scene.ts'
import { countsOf, plural, reviewHead, summaryUnits } from './summary.ts'
import { viewpointUnits } from './viewpoints.ts'

/** Width and height as the report stands, mm: A4 and Letter upright, A3 lying. */
const SIZES: Record<PaperSize, readonly [number, number]> = {
  A4: [210, 297],
  A3: [420, 297],
  Letter: [215.9, 279.4],
}
const BINDING = 20
const EDGE = 10
const INSET = 2.5
/** Pictures of gaps on one column. */
const CARDS = 3

export interface ReviewOptions {
  readonly paper?: PaperSize
  readonly unit?: LengthUnit
  readonly titleBlock?: Partial<TitleBlock>
  /** ISO 8601 date-time of making, for the file and, when the block has none, the date of issue. */
  readonly date: string
  /** Of all checks, as far as they were made. */
  readonly findings: readonly Finding[]
  /** The measured pairs that the findings of clearance are about. */
  readonly pairs: readonly ClearancePair[]
  /** Parts of imported models at hand. */
  readonly meshes?: readonly MeshBody[]
  /** Why the checks are not finished; '' (default) when they are. */
  readonly pending?: string
  /** What has changed since an earlier version, when one was compared; see changesUnits. */
  readonly changes?: ((w: number, scene: Scene) => Unit[]) | null
}

/** The review report as pages of paper: summary, open findings with a picture of each gap, decisions, viewpoints. */
export function reviewPages(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: ReviewOptions,
): PaperPage[] {
  const { paper = 'A4', unit = 'mm', meshes = [], pending = '', pairs, changes } = options
  const [width, height] = SIZES[paper]
  const across = paper === 'A3' ? 2 : 1
  const frame: Box = { x: BINDING, y: EDGE, w: width - BINDING - EDGE, h: height - 2 * EDGE }
  const space = 8
  const w = (frame.w - 2 * INSET - (across - 1) * space) / across
  const columns = (index: number): Box => ({
    x: frame.x + INSET + (index % across) * (w + space),
    y: frame.y + 1,
    w,
    h: frame.h - TITLE_HEIGHT - 3,
  })
  const figures = figuresIn(unit)
  const name = (id: string) => partName(document, id)
  const decisions = decide(options.findings, document.acceptances)
  const { decided, stale } = decisions
  const listed = listedFindings(decided, pairs)
  const open = listed.filter(l => isOpen(l.item))
  const counts = countsOf(decided)
  const block: TitleBlock = {
    owner: '',
    number: '',
    title: document.name,
    creator: '',
    approver: '',
    date: options.date.slice(0, 10),
    revision: '',
    documentType: 'Review report',
    ...options.titleBlock,
  }

  const units: Unit[] = [
    reviewHead(
      document,
      counts,
      pending,
      [
        plural(document.runs.length, 'run'),
        plural(document.solids.length, 'solid'),
        plural(document.models.length, 'model'),
      ].join(', '),
      w,
    ),
    ...(document.invented ? sentences(['Invented demo data: not a real job.'], w, '!') : []),
    ...sentences(
      fontCaution([
        document.name,
        ...document.runs.map(r => r.tag),
        ...document.solids.map(s => s.name),
        ...meshes.map(m => m.name),
        ...document.acceptances.flatMap(a => [a.reason, a.by]),
        ...document.viewpoints.flatMap(v => [v.name, v.note, v.by]),
      ]),
      w,
      '!',
    ),
    ...summaryUnits(document, decisions, { meshes, pending, name, figures }, w),
    ...releaseUnits(document, solved, pending === '' ? options.findings : null, w),
    gap(3),
    ...openList(open, name, figures, w),
  ]
  const gaps = open.filter((l): l is Listed & { pair: ClearancePair } => l.pair !== null)
  const scene = sceneOf(document, solved, meshes)
  if (gaps.length > 0) {
    const size = keySize(w)
    const cardHeight = Math.floor(((columns(0).h - 6.4) / CARDS) * 10) / 10
    const context = { scene, key: keyPicture(scene, size.w, size.h), figures, w, height: cardHeight }
    units.push(gap(3), heading(`Pictures of the open gaps (${gaps.length})`, w))
    for (const { number, item, pair } of gaps) units.push(gapCard(number, item, pair, context))
  }
  const more: Unit[][] = [
    acceptedList(
      listed.filter(l => l.item.state === 'accepted'),
      name,
      figures,
      w,
    ),
    staleList(stale, name, w),
    noteList(
      decided.filter(d => d.finding.severity === 'note' && d.state !== 'accepted'),
      name,
      figures,
      w,
    ),
    viewpointUnits(document, scene, w),
    changes?.(w, scene) ?? [],
  ]
  for (const part of more) if (part.length > 0) units.push(gap(3), ...part)

  const filled = flow(units, columns)
  const count = Math.ceil(filled.length / across)
  const unitName =
    unit === 'mm' ? 'mm, degrees' : unit === 'in' ? 'inches, degrees' : 'inches to 1/64, degrees'
  return Array.from({ length: count }, (_, p): PaperPage => {
    const items = [
      rectangle(frame, { stroke: BLACK, width: 0.5 }),
      ...Array.from({ length: across }, (_, c) => filled[p * across + c] ?? []).flat(),
    ]
    const blockWidth = across === 1 ? frame.w : TITLE_WIDTH
    const at: Box = {
      x: frame.x + frame.w - blockWidth,
      y: frame.y + frame.h - TITLE_HEIGHT,
      w: blockWidth,
      h: TITLE_HEIGHT,
    }
    items.push(...titleBlock(at, block, `${p + 1} / ${count}`, unitName))
    return { width, height, items }
  })
}

/** Findings that want or had a decision, numbered in their order (worst first), each with its measured pair. */
export function listedFindings(decided: readonly Decided[], pairs: readonly ClearancePair[]): Listed[] {
  const byParties = new Map<string, ClearancePair>()
  for (const pair of pairs) {
    byParties.set(`${pair.aId} ${pair.bId}`, pair)
    byParties.set(`${pair.bId} ${pair.aId}`, pair)
  }
  let number = 0
  return decided.map((item): Listed => {
    const { kind, run, other } = item.finding.where
    const pair = kind === 'pair' ? (byParties.get(`${run} ${other}`) ?? null) : null
    return { number: isOpen(item) ? ++number : 0, item, pair }
  })
}

/** The report as a PDF: the same document, options and date give the same bytes. */
export const reviewPdf = async (
  document: SkidDocument,
  solved: readonly SolvedRun[],
  options: ReviewOptions,
): Promise<Uint8Array> =>
  writePdf(reviewPages(document, solved, options), {
    title: `Review report ${document.name}`,
    author: options.titleBlock?.creator ?? '',
    date: options.date,
  })
