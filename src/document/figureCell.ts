import { type BareUnit, parseAngle, parseLengthIn } from './quantity.ts'
import { LARGEST_LENGTH, LARGEST_LENGTH_WORDS } from './sizeLimits.ts'

/** How a table writes its figures, by example: 1234.5 · 1234,5 · 1,234.5 · 1.234,5 */
export type Figures = 'point' | 'comma' | 'pointGrouped' | 'commaGrouped'

export type ReadFigure =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly reason: string }

/** A cell's length in mm. A bare figure is in `unit`; the cell may name its own. Never guesses at a comma. */
export function readLength(text: string, unit: BareUnit, figures: Figures): ReadFigure {
  const written = withPoint(text, figures)
  if (!written.ok) return written
  const plain = unit === 'mm' ? plainNumber(written.text) : null
  if (plain !== null)
    return Math.abs(plain) <= LARGEST_LENGTH
      ? { ok: true, value: plain }
      : { ok: false, reason: `the length is too large: wanted at most ${LARGEST_LENGTH_WORDS}` }
  const parsed = parseLengthIn(written.text, unit)
  return parsed.ok ? { ok: true, value: parsed.mm } : parsed
}

/** A cell's angle in degrees, any sign or size. */
export function readAngle(text: string, figures: Figures): ReadFigure {
  const written = withPoint(text, figures)
  if (!written.ok) return written
  const plain = plainNumber(written.text)
  if (plain !== null) return { ok: true, value: plain }
  const parsed = parseAngle(written.text)
  return parsed.ok ? { ok: true, value: parsed.deg } : parsed
}

/** Numbers as programs write them, with an exponent; what people write goes through the quantity reader. */
function plainNumber(text: string): number | null {
  if (!/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d{1,3})?$/i.test(text)) return null
  const value = Number(text)
  return Number.isFinite(value) ? value + 0 : null
}

type Written = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly reason: string }

const MARKS = {
  comma: { decimal: ',', group: '' },
  pointGrouped: { decimal: '.', group: ',' },
  commaGrouped: { decimal: ',', group: '.' },
} as const

/** The text with a decimal point and no grouping marks, or why its figures are not written as `figures` says. */
function withPoint(text: string, figures: Figures): Written {
  // With a point as the only mark the quantity reader itself refuses every comma.
  if (figures === 'point') return { ok: true, text }
  const { decimal, group } = MARKS[figures]
  let reason = ''
  const plain = text.replace(/[.,]?\d[\d.,]*/g, figure => {
    const [whole = '', part, ...more] = figure.split(decimal)
    const groups = group === '' ? [whole] : whole.split(group)
    const good =
      more.length === 0 &&
      groups.every(
        (g, i) => /^\d*$/.test(g) && (groups.length === 1 || (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(g)),
      ) &&
      (part === undefined || /^\d*$/.test(part))
    if (!good) reason ||= `"${figure}" is not written as ${EXAMPLES[figures]}`
    return good ? `${groups.join('')}${part === undefined ? '' : `.${part}`}` : figure
  })
  return reason ? { ok: false, reason } : { ok: true, text: plain }
}

/** One figure, written each way. */
export const EXAMPLES: Readonly<Record<Figures, string>> = {
  point: '1234.5',
  comma: '1234,5',
  pointGrouped: '1,234.5',
  commaGrouped: '1.234,5',
}
