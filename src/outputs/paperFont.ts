import { BOLD, REGULAR, UNITS_PER_EM } from './paperFontWidths.ts'

export type FontWeight = 'regular' | 'bold'

/** Advance widths by character. */
type Widths = ReadonlyMap<string, number>

/** Reads `first code point:width width*times …;…`, all in hex but the times. */
function read(table: string): Widths {
  const widths = new Map<string, number>()
  for (const block of table.split(';')) {
    const [first = '', list = ''] = block.split(':')
    let code = Number.parseInt(first, 16)
    for (const entry of list.split(' ')) {
      const [width = '', times = '1'] = entry.split('*')
      for (let i = 0; i < Number(times); i++)
        widths.set(String.fromCodePoint(code++), Number.parseInt(width, 16))
    }
  }
  return widths
}

let kept: { readonly regular: Widths; readonly bold: Widths } | null = null
/** Read when the first text is measured: much that is no paper imports what measures. */
function widths() {
  kept ??= { regular: read(REGULAR), bold: read(BOLD) }
  return kept
}

/** Letters in the form that the font has them in: one character each, however they were typed. */
const composed = (text: string) => text.normalize('NFC').replaceAll('\u00ad', '-')

/** The text as paper has it: what the font does not have is a question mark. */
export function printed(text: string): string {
  const { regular } = widths()
  let out = ''
  for (const c of composed(text)) out += regular.has(c) ? c : '?'
  return out
}

/** Characters of `text` that the paper's font does not have; they are printed as question marks. */
export const notInFont = (text: string): string[] => [
  ...new Set([...composed(text)].filter(c => !widths().regular.has(c))),
]

/** Width of one line of text, in the unit of `size`. */
export function textWidth(text: string, size: number, bold = false): number {
  const table = bold ? widths().bold : widths().regular
  let sum = 0
  for (const c of printed(text)) sum += table.get(c) ?? 0
  return (sum * size) / UNITS_PER_EM
}

/** A space at which no line ends. */
export const NO_BREAK = '\u00a0'

/**
 * Text broken into lines no wider than `width`; a word that is too long by itself is broken where it must be. Spaces
 * at which no line ends are plain spaces in the lines.
 */
export function wrapText(text: string, width: number, size: number, bold = false): string[] {
  const lines: string[] = []
  for (const paragraph of composed(text).split(/\r?\n/)) {
    let line = ''
    for (const word of paragraph.split(/ +/)) {
      let rest = word.replaceAll(NO_BREAK, ' ')
      const joined = line === '' ? rest : `${line} ${rest}`
      if (textWidth(joined, size, bold) <= width) {
        line = joined
        continue
      }
      if (line !== '') lines.push(line)
      while (textWidth(rest, size, bold) > width && rest.length > 1) {
        let n = rest.length - 1
        while (n > 1 && textWidth(rest.slice(0, n), size, bold) > width) n--
        lines.push(rest.slice(0, n))
        rest = rest.slice(n)
      }
      line = rest
    }
    lines.push(line)
  }
  return lines
}
