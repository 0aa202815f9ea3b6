import { type LengthUnit, parseLength } from '../../document/quantity.ts'
import type { TableKind } from '../../document/tableLayout.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { startFrame } from '../../solve/rows.ts'
import { solvedRunOf } from '../../store/derived.ts'
import type { Start } from './placeRuns.ts'

/** Where a table's runs go, as chosen. */
export interface Place {
  readonly target: 'newRuns' | 'replace' | 'newSkid'
  /** Id of the run that gives tube, CLR and bender, or whose points are replaced; '' when there is none. */
  readonly like: string
  /** 'asWritten', 'point', or the id of the fitting whose port the first run begins in. */
  readonly start: string
  /** As typed, in the unit shown. */
  readonly at: readonly [string, string, string]
  readonly heading: Way
  readonly towards: Way
}

export const WAYS = ['+X', '−X', '+Y', '−Y', '+Z', '−Z'] as const
export type Way = (typeof WAYS)[number]

export const FIRST_PLACE: Omit<Place, 'like'> = {
  target: 'newRuns',
  start: 'asWritten',
  at: ['0', '0', '0'],
  heading: '+X',
  towards: '+Y',
}

const VECTORS: Readonly<Record<Way, Vec3>> = {
  '+X': [1, 0, 0],
  '−X': [-1, 0, 0],
  '+Y': [0, 1, 0],
  '−Y': [0, -1, 0],
  '+Z': [0, 0, 1],
  '−Z': [0, 0, -1],
}

export type StartAnswer =
  | { readonly ok: true; readonly start: Start }
  | { readonly ok: false; readonly reason: string }

/** Where the first run begins, or why that cannot be told. */
export function startOf(
  document: SkidDocument,
  place: Place,
  kind: TableKind,
  unit: LengthUnit,
): StartAnswer {
  if (place.target === 'replace') {
    if (kind === 'points') return { ok: true, start: { kind: 'asWritten' } }
    const solved = solvedRunOf(document, place.like)
    return solved?.route
      ? { ok: true, start: { kind: 'frame', frame: startFrame(solved.route) } }
      : { ok: false, reason: `${solved?.tag ?? 'The run'} has no solution: its end A heads nowhere.` }
  }
  if (place.start === 'asWritten' || place.target === 'newSkid')
    return { ok: true, start: { kind: 'asWritten' } }
  const towards = VECTORS[place.towards]
  if (place.start !== 'point') {
    const port = document.fittings.find(f => f.id === place.start)
    return port
      ? { ok: true, start: { kind: 'at', at: port.position, heading: port.axis, towards } }
      : { ok: false, reason: 'The starting port is no longer in the skid.' }
  }
  const at: number[] = []
  for (const [i, text] of place.at.entries()) {
    const length = parseLength(text, unit)
    if (!length.ok) return { ok: false, reason: `Start at ${'XYZ'[i]}: ${length.reason}.` }
    at.push(length.mm)
  }
  return {
    ok: true,
    start: { kind: 'at', at: [at[0]!, at[1]!, at[2]!], heading: VECTORS[place.heading], towards },
  }
}
