import { isOrderMark, orderMark, readOrderMark } from '../bender/orderMark.ts'
import type { SkidDocument } from '../document/types.ts'
import type { OrderedBend } from '../solve/bendOrder.ts'
import type { SolvedRun } from '../solve/types.ts'
import { type BenchRun, benchRun } from './benchLayout.ts'

/** Letters and figures that are not taken for one another when read aloud or by hand. */
const LETTERS = '23456789ABCDEFGHJKLMNPQRSTUVWXYZ'

/**
 * A short code of a run and its revision, `RRRR-XXXX-XXXX`, followed by the order of the bends where it is another
 * than one after the other from end A ({@link orderMark}): marks and turns are another order's. The first four characters are of the run (its id and tag)
 * and stay when its figures change; the other eight are of what is bent: tube, CLR, insertions, cut length, straights,
 * angles and rotations to 1e-6, and of what the bender adds to marks and dial readings. Same run and figures, same
 * code. FNV-1a, 64 bits (from memory), of which 20 and 40 are shown: it tells revisions apart, it is no proof against
 * forgery.
 */
export function runCode({ run, bender, tooling, springback, layout }: BenchRun, solved: SolvedRun): string {
  const fixed = (x: number | null | undefined) => {
    const text = x === null || x === undefined ? '-' : x.toFixed(6)
    return text === '-0.000000' ? '0.000000' : text
  }
  const bent = [
    run.tag,
    run.tube.material,
    ...[run.tube.od, run.tube.wall, run.clr, solved.insertionA, solved.insertionB, solved.cutLength].map(
      fixed,
    ),
    ...(solved.route?.straights.map(fixed) ?? []),
    ...(solved.route?.bends.flatMap(b => [fixed(b.angle), fixed(b.rotation)]) ?? []),
    ...(bender && tooling ? [bender.hand, bender.kind, tooling.clrMeasured] : ['-']),
    ...[tooling?.clr, tooling?.referenceOffset, tooling?.stretchAt90].map(fixed),
    ...[springback?.offset, springback?.perDegree].map(fixed),
  ]
  const figures = shown(bent.join('|'), 8)
  const order = orderMark(layout?.steps ?? [])
  return `${shown(`${run.id}|${run.tag}`, 4)}-${figures.slice(0, 4)}-${figures.slice(4)}${order && `-${order}`}`
}

/** Characters of a code that are of the run and its figures; the order of the bends comes after them. */
const CODE_LENGTH = 12

function shown(text: string, characters: number): string {
  let hash = 0xcbf29ce484222325n
  for (const byte of new TextEncoder().encode(text))
    hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn
  let code = ''
  for (let i = 0; i < characters; i++) code += LETTERS[Number((hash >> BigInt(5 * i + 24)) & 31n)]
  return code
}

/** What is typed of a code, or a link that ends in one, without what may be written differently; '' for none. */
export const plainCode = (typed: string): string =>
  typed
    .slice(typed.lastIndexOf('=') + 1)
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')

export interface CodeAnswer {
  readonly runId: string
  readonly tag: string
  /** The run's code as it is now. */
  readonly code: string
  /** True when every figure is as it was on the sheet; false when it is the sheet's run with other figures. */
  readonly same: boolean
  /** The order in which the sheet has the bends made; null when the run has other bends by now. */
  readonly order: readonly OrderedBend[] | null
}

/** The run of the document that a sheet with this code was printed of, or null when it has none such. */
export function findByCode(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  typed: string,
): CodeAnswer | null {
  const all = plainCode(typed)
  const [wanted, mark] = [all.slice(0, CODE_LENGTH), all.slice(CODE_LENGTH)]
  if (wanted.length < CODE_LENGTH || !isOrderMark(mark)) return null
  let changed: CodeAnswer | null = null
  for (const s of solved) {
    if (s.route === null) continue
    const code = runCode(benchRun(document, s), s)
    const plain = plainCode(code)
    const order = readOrderMark(mark, s.route.bends.length)
    if (plain === wanted) return { runId: s.runId, tag: s.tag, code, same: order !== null, order }
    if (plain.slice(0, 4) === wanted.slice(0, 4))
      changed ??= { runId: s.runId, tag: s.tag, code, same: false, order }
  }
  return changed
}
