import * as v from 'valibot'
import { type CutOptions, SIX_METRES, TWENTY_FEET } from '../outputs/cutList.ts'
import { browserMemory } from './browserMemory.ts'

const KEY = 'dogleg-cut-list'

const above0 = v.pipe(v.number(), v.finite(), v.gtValue(0))
const from0 = v.pipe(v.number(), v.finite(), v.minValue(0))
const count = v.pipe(v.number(), v.integer(), v.minValue(1))
const SCHEMA = v.object({
  sixMetres: v.boolean(),
  twentyFeet: v.boolean(),
  own: v.array(v.object({ id: v.number(), length: above0, count: v.nullable(count) })),
  leftovers: v.array(
    v.object({ id: v.number(), length: above0, count, od: above0, wall: above0, material: v.string() }),
  ),
  kerf: from0,
  endTrim: from0,
  leastRemnant: from0,
})

/** What lies in the store and what the saw takes, as chosen last: of this browser, not of the document. mm. */
export type CutSettings = v.InferOutput<typeof SCHEMA>

/** What {@link cutList} takes when nothing is said. */
export const PLAIN_CUT: CutSettings = {
  sixMetres: true,
  twentyFeet: false,
  own: [],
  leftovers: [],
  kerf: 2,
  endTrim: 5,
  leastRemnant: 300,
}

/** The kept choices; the plain ones when storage is refused or holds something else. */
export function readCutSettings(): CutSettings {
  const read = v.safeParse(SCHEMA, browserMemory.value(KEY))
  return read.success ? read.output : PLAIN_CUT
}

/** Without storage the choices last as long as the page. */
export function keepCutSettings(settings: CutSettings): void {
  browserMemory.keep(KEY, settings)
}

/** The choices as the command line would have them: remnants are called so there as well. */
export function cutOptionsOf(settings: CutSettings): CutOptions {
  const { sixMetres, twentyFeet, own, leftovers, kerf, endTrim, leastRemnant } = settings
  return {
    stock: [
      ...(sixMetres ? [{ length: SIX_METRES, count: null }] : []),
      ...(twentyFeet ? [{ length: TWENTY_FEET, count: null }] : []),
      ...own.map(s => ({ length: s.length, count: s.count })),
    ],
    remnants: leftovers.map(({ id: _, ...r }) => ({ name: 'remnant', ...r })),
    kerf,
    endTrim,
    leastRemnant,
  }
}
