import { writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { create } from 'fontkit'
import { fontFile } from '../../src/outputs/readFontFile.ts'

/** Scripts of names that paper prints; signs and figures are of no script of their own. Nothing invisible. */
const PRINTED =
  /^(?!\p{C})[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Common}\p{Script=Inherited}]$/u

export const WIDTHS_FILE = resolve(import.meta.dirname, '../../src/outputs/paperFontWidths.ts')

/** `first code point:width width*times …;…`, all in hex but the times. */
function tableOf(file: Uint8Array): string {
  const font = create(file as Buffer)
  if (!('characterSet' in font)) throw new Error('found a collection of fonts; wanted one font')
  const blocks: { readonly first: number; readonly widths: number[] }[] = []
  for (const code of font.characterSet.toSorted((a, b) => a - b)) {
    const character = String.fromCodePoint(code)
    // Of characters that are written as others, the others are printed.
    if (!PRINTED.test(character) || character.normalize('NFC') !== character) continue
    const width = font.glyphForCodePoint(code).advanceWidth
    const last = blocks.at(-1)
    if (last && last.first + last.widths.length === code) last.widths.push(width)
    else blocks.push({ first: code, widths: [width] })
  }
  return blocks.map(b => `${b.first.toString(16)}:${inRuns(b.widths)}`).join(';')
}

function inRuns(widths: readonly number[]): string {
  const runs: { readonly width: number; times: number }[] = []
  for (const width of widths) {
    const last = runs.at(-1)
    if (last?.width === width) last.times++
    else runs.push({ width, times: 1 })
  }
  return runs.map(r => `${r.width.toString(16)}${r.times > 1 ? `*${r.times}` : ''}`).join(' ')
}

/** The text of the file of widths, from the fonts themselves. `tsx tests/outputs/fontWidthsOf.ts` writes it. */
export async function widthsFile(): Promise<string> {
  const { unitsPerEm } = create((await fontFile('regular')) as Buffer) as { unitsPerEm: number }
  return `/**
 * Advance widths of the paper's font by character, as the font's own table has them; written by
 * tests/outputs/fontWidthsOf.ts. They are here so that a text is measured without the font being loaded.
 */
export const UNITS_PER_EM = ${unitsPerEm}
export const REGULAR =
  '${tableOf(await fontFile('regular'))}'
export const BOLD =
  '${tableOf(await fontFile('bold'))}'
`
}

if (process.argv[1] === import.meta.filename) writeFileSync(WIDTHS_FILE, await widthsFile())
