import { parseAngle, parseLength } from '../document/quantity.ts'
import type { Override } from '../outputs/releaseState.ts'
import type { SheetTolerances } from '../outputs/sheetText.ts'
import type { TitleBlock } from '../outputs/titleBlock.ts'
import { BadInput } from './badInput.ts'
import type { Given } from './command.ts'
import { RELEASE_OPTIONS, TITLE_OPTIONS } from './options.ts'

/**
 * What was given of the title block; fields left out keep what the sheet puts there.
 *
 * @param of the sheets that are made. A number and a title are of one: of several they would be one and the same.
 */
export function titleOptions(values: Given, of: { readonly sheets: number }): Partial<TitleBlock> {
  const given = (Object.keys(TITLE_OPTIONS) as (keyof typeof TITLE_OPTIONS)[]).flatMap(name => {
    const text = values[name]
    return typeof text === 'string' && text.trim() !== '' ? [[name, text.trim()] as const] : []
  })
  const ofOne = given.find(([name]) => name === 'number' || name === 'title')
  if (ofOne && of.sheets > 1)
    throw new BadInput(`--${ofOne[0]}: found it for ${of.sheets} runs; wanted it with --run, for one`)
  return Object.fromEntries(given)
}

/** Who releases although findings are open, and why; null when nobody does. */
export function releaseOption(values: Given): Override | null {
  const [by, reason] = Object.keys(RELEASE_OPTIONS).map(name => String(values[name] ?? '').trim())
  if (by && reason) return { by, reason }
  if (values['released-by'] === undefined && values['reason'] === undefined) return null
  throw new BadInput('--released-by and --reason: found one of them; wanted who releases the sheet, and why')
}

/** `--tolerances straights,angles,rotations,ends`: ± mm or a length with its unit, ± degrees; '-' for one not given. */
export function tolerancesOption(text: string | undefined): SheetTolerances | null {
  if (text === undefined) return null
  const words = text.split(',')
  const wanted = 'straights,angles,rotations,ends as in 1,0.5,1,3; - for one that is not given'
  if (words.length !== 4) throw new BadInput(`--tolerances: found "${text}"; wanted ${wanted}`)
  const figure = (at: number, kind: 'mm' | 'deg'): number | null => {
    const word = words[at]!.trim()
    if (word === '-') return null
    const length = kind === 'mm' ? parseLength(word, 'mm') : null
    const angle = kind === 'deg' ? parseAngle(word) : null
    const read = length?.ok ? length.mm : angle?.ok ? angle.deg : Number.NaN
    if (!(read >= 0)) throw new BadInput(`--tolerances: found "${word}"; wanted ${wanted}`)
    return read
  }
  return { length: figure(0, 'mm'), angle: figure(1, 'deg'), turn: figure(2, 'deg'), ends: figure(3, 'mm') }
}
