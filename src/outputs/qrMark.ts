import { encode } from 'uqr'
import { OutputError } from './outputError.ts'
import { BLACK, type PathItem, type PathStep } from './paper.ts'

/** Of the codewords about 15 % may be lost: level M of ISO/IEC 18004 (from memory). */
const QR_LEVEL = 'M'
/** White all round, modules; ISO/IEC 18004 asks for four (from memory). */
const QUIET = 4
/** Least edge of one module, mm: a plain office printer and a phone held by hand. Common practice, no source. */
export const LEAST_MODULE = 0.4
/** Edge of the symbol with its quiet zone, mm: as wide as this unless its modules would get too small. */
const EDGE = 21
const WIDEST = 30

export interface QrMark {
  /** Edge with the quiet zone, mm. */
  readonly size: number
  /** Edge of one module, mm. */
  readonly module: number
  /** The dark modules, from (0, 0) of the quiet zone's corner. */
  readonly item: PathItem
}

/**
 * A QR symbol of the text, model 2 with error correction level M: one filled path, so that no seams show between its
 * modules.
 *
 * @throws OutputError when the text is so long that a module would be smaller than 0.4 mm.
 */
export function qrMark(text: string): QrMark {
  const wanted = `a text that fits into ${WIDEST} mm: a shorter address`
  const tooLong = () => new OutputError('QR code', `${text.length} characters`, wanted)
  let made: { readonly size: number; readonly data: readonly (readonly boolean[])[] }
  try {
    made = encode(text, { ecc: QR_LEVEL, border: QUIET })
  } catch {
    throw tooLong()
  }
  const module = Math.max(LEAST_MODULE, EDGE / made.size)
  if (module * made.size > WIDEST) throw tooLong()
  const steps: PathStep[] = []
  made.data.forEach((row, r) => {
    for (let from = 0; from < row.length; from++) {
      if (!row[from]) continue
      let to = from
      while (row[to]) to++
      const [x1, x2, y1, y2] = [from, to, r, r + 1].map(i => i * module) as [number, number, number, number]
      steps.push(['M', x1, y1], ['L', x2, y1], ['L', x2, y2], ['L', x1, y2], ['Z'])
      from = to
    }
  })
  return { size: module * made.size, module, item: { kind: 'path', steps, fill: BLACK } }
}
