import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Model, ModelKind } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { KIND_NAMES } from '../panels/solidKinds.ts'

export const MODEL_KIND_NAMES: Readonly<Record<ModelKind, string>> = {
  ...KIND_NAMES,
  leftOut: 'Left out of the check',
}
export const FORMAT_NAMES: Readonly<Record<Model['format'], string>> = {
  step: 'STEP',
  gltf: 'glTF',
  stl: 'STL',
  obj: 'OBJ',
}

/** What one unit of a file may be, mm. */
export const FILE_UNITS: readonly { readonly mm: number; readonly name: string }[] = [
  { mm: 1, name: 'millimetre' },
  { mm: 10, name: 'centimetre' },
  { mm: 1000, name: 'metre' },
  { mm: 25.4, name: 'inch' },
  { mm: 304.8, name: 'foot' },
]
export const unitName = (unitMm: number): string =>
  FILE_UNITS.find(u => u.mm === unitMm)?.name ?? `${unitMm} mm`

/** As the limits count them: 1 MB is a million bytes. */
export function bytesInWords(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`
  const [figure, unit] = bytes < 1e6 ? [bytes / 1000, 'kB'] : [bytes / 1e6, 'MB']
  return `${figure < 10 ? figure.toFixed(1) : figure.toFixed(0)} ${unit}`
}

export const counted = (n: number, one: string, many: string): string =>
  `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`

/** "1200 × 800 × 900 mm". */
export function sizeInWords({ low, high }: { low: Vec3; high: Vec3 }, unit: LengthUnit): string {
  const edges = high.map((h, k) => formatLength(h - low[k]!, unit, { digits: unit === 'mm' ? 0 : 1 }))
  return `${edges.join(' × ')} ${unit === 'mm' ? 'mm' : 'in'}`
}

/** From here to there an edge of a skid's model is likely, mm. */
const LIKELY_MM = [50, 20_000] as const

/** The unit in which the longest edge (in the file's own unit) has a likely length; millimetres when none has. */
export function likelyUnit(longest: number): number {
  const tried = [1, 1000, 25.4, 10, 304.8]
  return tried.find(mm => longest * mm >= LIKELY_MM[0] && longest * mm <= LIKELY_MM[1]) ?? 1
}

/** Which axis is taken to point up where the file does not say; common practice of each format, no source. */
export const likelyUp = (format: Model['format']): Model['up'] =>
  format === 'obj' || format === 'gltf' ? 'y' : 'z'
