import type {
  Bender,
  Fitting,
  Model,
  SkidDocument,
  Solid,
  Springback,
  Support,
  Tooling,
} from '../document/types.ts'
import type { Vec3 } from '../geometry/vec3.ts'
import type { Change } from './change.ts'

/** One figure or word of a part, by a name that is its own in the part. */
export interface Figure {
  readonly what: string
  readonly value: number | string | null
  readonly unit: Change['unit']
}
export const figure = (what: string, value: number | null, unit: Change['unit'] = 'mm'): Figure => ({
  what,
  value,
  unit,
})
export const word = (what: string, value: string): Figure => ({ what, value, unit: '' })
const along = (what: string, v: Vec3, unit: Change['unit'] = 'mm'): Figure[] =>
  (['x', 'y', 'z'] as const).map((axis, k) => figure(`${what} ${axis}`.trim(), v[k]!, unit))

export const fittingFigures = (f: Fitting): Figure[] => [
  word('name', f.name),
  word('port', f.catalogueId ?? 'none'),
  ...along('', f.position),
  ...along('axis', f.axis, ''),
  figure('insertion', f.insertionDepth),
  figure('minimum straight', f.straightNeeded),
  figure('tube OD', f.tubeOd),
]

export function solidFigures(s: Solid): Figure[] {
  const common = [word('name', s.name), word('kind', s.kind), word('shape', s.shape), ...along('', s.at)]
  switch (s.shape) {
    case 'box':
      return [...common, ...along('size', s.size), ...along('turn', s.turn, 'deg')]
    case 'cylinder':
      return [...common, ...along('axis', s.axis, ''), figure('length', s.length), figure('radius', s.radius)]
    case 'sphere':
      return [...common, figure('radius', s.radius)]
    case 'plane':
      return [...common, ...along('normal', s.normal, '')]
  }
}

export const modelFigures = (m: Model): Figure[] => [
  word('name', m.name),
  word('file', m.fileName),
  // The first digits tell versions of a file apart; all 64 would fill the line.
  word('content of the file', m.hash.slice(0, 12)),
  figure('mm in one unit', m.unitMm, ''),
  word('up', m.up),
  word('kind', m.kind),
  ...along('', m.at),
  ...along('turn', m.turn, 'deg'),
  ...m.parts.map(p => word(`part ${p.key}`, p.fitting === null ? p.kind : `${p.kind} of ${p.fitting}`)),
]

export const supportFigures = (s: Support): Figure[] => [
  word('name', s.name),
  word('type', s.type),
  ...along('', s.at),
]

/** A bender by its tooling and springback; of its solids only whether they are others: the bending view shows them. */
export function benderFigures(b: Bender): Figure[] {
  const solids = b.housing.length + b.arm.length
  return [
    word('name', b.name),
    word('hand', b.hand),
    word('kind', b.kind),
    word('after each bend', b.tubeOutFirst ? 'tube out first' : 'arm back first'),
    figure('margin to the bender', b.margin ?? null),
    ...b.tooling.flatMap(toolingFigures),
    ...b.springback.flatMap(springbackFigures),
    word('solids', `${solids}, mark ${mark([b.housing, b.arm, b.benchTop, b.benchEdge])}`),
  ]
}

/** Tooling is called by what it is for; figures in mm, as the document has them. */
function toolingFigures(t: Tooling): Figure[] {
  const of = (what: string) => `tooling OD ${t.od}, CLR ${t.clr}: ${what}`
  return [
    word(of('CLR measured'), t.clrMeasured === 'die' ? 'on the die' : 'on a settled bend'),
    figure(of('clamp grip'), t.clampGrip),
    figure(of('follower length'), t.followerLength),
    figure(of('reference offset'), t.referenceOffset),
    figure(of('largest angle'), t.maxAngle, 'deg'),
    figure(of('stretch at 90°'), t.stretchAt90 ?? null),
  ]
}

function springbackFigures({ material, offset, perDegree, range }: Springback): Figure[] {
  const of = (what: string) => `springback of ${material}: ${what}`
  return [
    figure(of('offset'), offset, 'deg'),
    figure(of('for each degree'), perDegree, ''),
    figure(of('from'), range?.[0] ?? null, 'deg'),
    figure(of('to'), range?.[1] ?? null, 'deg'),
  ]
}

/** A short mark that differs when the content does (FNV-1a, 32 bits, from memory). */
function mark(content: unknown): string {
  let h = 0x811c9dc5
  for (const c of JSON.stringify(content)) h = Math.imul(h ^ c.charCodeAt(0), 0x01000193)
  return (h >>> 0).toString(16).padStart(8, '0')
}

export const settingFigures = (d: SkidDocument): Figure[] => [
  word('name', d.name),
  figure('clearance to tubes', d.clearances.tube),
  figure('clearance to equipment', d.clearances.equipment),
  figure('clearance to structure', d.clearances.structure),
  figure('clearance to fittings', d.clearances.fitting),
  figure('clearance to the floor', d.clearances.floor),
  figure('clearance to keep-out', d.clearances.keepOut),
  figure('maximum span between supports', d.supportSpan),
]
