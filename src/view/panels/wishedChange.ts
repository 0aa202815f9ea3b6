import { tubeSize } from '../../catalogue/tubeSizes.ts'
import type { RunChange } from '../../document/bulkEdits.ts'
import type { LengthUnit } from '../../document/quantity.ts'
import type { Run } from '../../document/types.ts'
import { countKind, lengthKind, type QuantityKind } from '../fields/quantityKind.ts'

export const WISHED = [
  'size',
  'od',
  'wall',
  'material',
  'bender',
  'clr',
  'service',
  'insulation',
  'insulationCutBack',
  'trimAllowance',
  'quantity',
] as const
export type Wished = (typeof WISHED)[number]

/** What was chosen or typed for many runs; what is not there stays each run's own. A size of '' has its Custom OD and wall. */
export type Wishes = Partial<Record<Wished, string>>

export const WISH_WORDS: Record<Wished, string> = {
  size: 'Size',
  od: 'OD',
  wall: 'Wall',
  material: 'Material',
  bender: 'Bender',
  clr: 'CLR',
  service: 'Service',
  insulation: 'Insulation',
  insulationCutBack: 'Insulation cut back',
  trimAllowance: 'Trim allowance',
  quantity: 'Quantity',
}

/** The change that is wished for, or what is wrong with each figure that cannot be read. */
export function wishedChange(
  wishes: Wishes,
  unit: LengthUnit,
): { readonly change: RunChange; readonly faults: readonly string[] } {
  const faults: string[] = []
  const read = (key: Wished, kind: QuantityKind): number | undefined => {
    const text = wishes[key]
    if (text === undefined) return undefined
    const parsed = kind.parse(text)
    if (parsed.ok) return parsed.value
    faults.push(`${WISH_WORDS[key]}: ${text.trim() === '' ? 'nothing is typed' : parsed.reason}.`)
    return undefined
  }
  const length = lengthKind(unit)
  const known = wishes.size ? tubeSize(wishes.size) : null
  if (wishes.size && !known) faults.push(`Size: the table has no "${wishes.size}".`)
  const own = wishes.size === ''
  const od = own ? read('od', length) : undefined
  const wall = own ? read('wall', length) : undefined
  if (own && wishes.od === undefined) faults.push('OD: nothing is typed.')
  if (own && wishes.wall === undefined) faults.push('Wall: nothing is typed.')
  const size = known
    ? { catalogueId: known.id, od: known.od, wall: known.wall }
    : od !== undefined && wall !== undefined
      ? { catalogueId: null, od, wall }
      : undefined
  const figures = {
    clr: read('clr', length),
    insulation: read('insulation', length),
    insulationCutBack: read('insulationCutBack', length),
    trimAllowance: read('trimAllowance', length),
    quantity: read('quantity', countKind),
    material: wishes.material,
    service: wishes.service,
    bender: wishes.bender === '' ? null : wishes.bender,
    size,
  }
  const change: RunChange = Object.fromEntries(Object.entries(figures).filter(([, v]) => v !== undefined))
  return { change, faults }
}

/** What the runs have now: the one thing, or how many different ones. */
export function sharedNow(runs: readonly Run[], of: (run: Run) => string): string {
  const values = new Set(runs.map(of))
  const [only] = values
  return values.size === 1 ? only || 'none' : `${values.size} different`
}
