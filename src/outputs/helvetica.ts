/**
 * Advance widths of Helvetica and Helvetica-Bold in thousandths of the size, codes 32 to 255 of WinAnsiEncoding; from
 * Adobe's font metrics of the standard 14 fonts, which every PDF reader has or stands in for with the same widths.
 */
const REGULAR =
  '278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 278 278 584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 722 667 611 722 667 944 667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 500 222 833 556 556 556 556 333 500 278 556 500 722 500 500 500 334 260 334 584 0 556 0 222 556 333 1000 556 556 333 1000 667 333 1000 0 611 0 0 222 222 333 333 350 556 1000 333 1000 500 333 944 0 500 500 278 333 556 556 556 556 260 556 333 737 370 556 584 333 737 333 400 584 333 333 333 556 537 278 333 333 365 556 834 834 834 611 667 667 667 667 667 667 1000 722 667 667 667 667 278 278 278 278 722 722 778 778 778 778 778 584 778 722 722 722 722 667 667 611 556 556 556 556 556 556 889 500 556 556 556 556 278 278 278 278 556 556 556 556 556 556 556 584 611 556 556 556 556 500 556 500'
const BOLD =
  '278 333 474 556 556 889 722 238 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 333 333 584 584 584 611 975 722 722 722 722 667 611 778 722 278 556 722 611 833 722 778 667 778 722 667 611 722 667 944 667 667 611 333 278 333 584 556 333 556 611 556 611 556 333 611 611 278 278 556 278 889 611 611 611 611 389 556 333 611 556 778 556 556 500 389 280 389 584 0 556 0 278 556 500 1000 556 556 333 1000 667 333 1000 0 611 0 0 278 278 500 500 350 556 1000 333 1000 556 333 944 0 500 556 278 333 556 556 556 556 280 556 333 737 370 556 584 333 737 333 400 584 333 333 333 611 556 278 333 333 365 556 834 834 834 611 722 722 722 722 722 722 1000 722 667 667 667 667 278 278 278 278 722 722 778 778 778 778 778 584 778 722 722 722 722 667 667 611 556 556 556 556 556 556 889 556 556 556 556 556 278 278 278 278 611 611 611 611 611 611 611 584 611 611 611 611 611 556 611 556'

const widths = { regular: REGULAR.split(' ').map(Number), bold: BOLD.split(' ').map(Number) }

/** Code points that WinAnsiEncoding has outside Latin-1, and their codes. */
const OUTSIDE_LATIN_1: ReadonlyMap<number, number> = new Map([
  [338, 140],
  [339, 156],
  [352, 138],
  [353, 154],
  [376, 159],
  [381, 142],
  [382, 158],
  [402, 131],
  [710, 136],
  [732, 152],
  [8211, 150],
  [8212, 151],
  [8216, 145],
  [8217, 146],
  [8218, 130],
  [8220, 147],
  [8221, 148],
  [8222, 132],
  [8224, 134],
  [8225, 135],
  [8226, 149],
  [8230, 133],
  [8240, 137],
  [8249, 139],
  [8250, 155],
  [8364, 128],
  [8482, 153],
])

/** The character's code in WinAnsiEncoding, or null when the sheet's font does not have it. */
export function winAnsiCode(character: string): number | null {
  const code = character.codePointAt(0) ?? 0
  if ((code >= 32 && code <= 126) || (code >= 160 && code <= 255)) return code
  if (code === 0x2212) return 45
  return OUTSIDE_LATIN_1.get(code) ?? null
}

/** Characters of `text` that the sheet's font does not have; they are printed as question marks. */
export const notInFont = (text: string): string[] => [
  ...new Set([...text].filter(c => winAnsiCode(c) === null)),
]

/** Width of one line of text, in the unit of `size`. */
export function textWidth(text: string, size: number, bold = false): number {
  const table = bold ? widths.bold : widths.regular
  let sum = 0
  for (const c of text) sum += table[(winAnsiCode(c) ?? 63) - 32] ?? 0
  return (sum * size) / 1000
}

/** A space at which no line ends. */
export const NO_BREAK = '\u00a0'

/**
 * Text broken into lines no wider than `width`; a word that is too long by itself is broken where it must be. Spaces
 * at which no line ends are plain spaces in the lines.
 */
export function wrapText(text: string, width: number, size: number, bold = false): string[] {
  const lines: string[] = []
  for (const paragraph of text.split(/\r?\n/)) {
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
