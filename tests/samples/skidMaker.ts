import { fittingKind } from '../../src/catalogue/fittingKinds.ts'
import { knownBender } from '../../src/document/knownBenders.ts'
import { DEFAULT_CLEARANCES } from '../../src/document/newDocument.ts'
import type {
  Bender,
  Fitting,
  Run,
  RunEnd,
  SkidDocument,
  Solid,
  SolidKind,
  Support,
  Tube,
} from '../../src/document/types.ts'
import { addScaled, unit, type Vec3 } from '../../src/geometry/vec3.ts'

/** Tube, bend radius and port of each size that the samples use; catalogue rows of shared/. */
export const SIZES = {
  '6': size('mm-6-1', 6, 1, 18, 'port-mm-6'),
  '8': size('mm-8-1', 8, 1, 24, 'port-mm-8'),
  '10': size('mm-10-1', 10, 1, 30, 'port-mm-10'),
  '12': size('mm-12-1.5', 12, 1.5, 36, 'port-mm-12'),
  '1/4': size('in-1_4-0.035', 6.35, 0.889, 19.05, 'port-in-1_4'),
  '3/8': size('in-3_8-0.049', 9.525, 1.2446, 28.575, 'port-in-3_8'),
} as const
export type Size = keyof typeof SIZES

function size(tube: string, od: number, wall: number, clr: number, port: string) {
  const kind = fittingKind(port)
  if (!kind) throw new Error(`port: found no "${port}" in shared/fittings.json`)
  return {
    tube: { catalogueId: tube, od, wall, material: '316' } satisfies Tube,
    clr,
    port,
    insertion: kind.insertionDepth,
    straight: kind.straightNeeded,
  }
}

const BODY_LENGTH = 36

/** Gathers one sample document. Everything in it is invented. */
export class SkidMaker {
  private readonly fittings: Fitting[] = []
  private readonly solids: Solid[] = []
  private readonly runs: Run[] = []
  private readonly benders: Bender[] = []
  private readonly supports: Support[] = []

  constructor(
    private readonly name: string,
    private readonly note: string,
  ) {}

  bender(catalogueId: string): this {
    const known = knownBender(catalogueId)
    if (!known) throw new Error(`bender: found no "${catalogueId}" in shared/benders.json`)
    this.benders.push(known.bender)
    return this
  }

  /** A port with its body behind the face; gives its id. */
  port(id: string, name: string, of: Size, position: Vec3, axis: Vec3): string {
    const { port, insertion, straight, tube } = SIZES[of]
    this.fittings.push({
      id,
      name,
      catalogueId: port,
      position,
      axis,
      insertionDepth: insertion,
      straightNeeded: straight,
      tubeOd: tube.od,
    })
    this.solids.push({
      id: `${id}-body`,
      name: `${name}, body`,
      kind: 'fitting',
      fitting: id,
      shape: 'cylinder',
      at: addScaled(position, unit(axis) ?? axis, -BODY_LENGTH / 2),
      axis,
      length: BODY_LENGTH,
      radius: tube.od * 0.8 + 4,
    })
    return id
  }

  box(id: string, name: string, kind: SolidKind, at: Vec3, full: Vec3, turn: Vec3 = [0, 0, 0]): this {
    this.solids.push({ id, name, kind, fitting: null, shape: 'box', at, size: full, turn })
    return this
  }

  cylinder(
    id: string,
    name: string,
    kind: SolidKind,
    at: Vec3,
    axis: Vec3,
    length: number,
    radius: number,
  ): this {
    this.solids.push({ id, name, kind, fitting: null, shape: 'cylinder', at, axis, length, radius })
    return this
  }

  sphere(id: string, name: string, kind: SolidKind, at: Vec3, radius: number): this {
    this.solids.push({ id, name, kind, fitting: null, shape: 'sphere', at, radius })
    return this
  }

  floor(z = 0): this {
    this.solids.push({
      id: 'floor',
      name: 'Floor',
      kind: 'floor',
      fitting: null,
      shape: 'plane',
      at: [0, 0, z],
      normal: [0, 0, 1],
    })
    return this
  }

  /** Four posts and the beams between them, round the outside of a box from `low` to `high`. */
  frame(low: Vec3, high: Vec3, section: number): this {
    const mid = (axis: 0 | 1 | 2) => (low[axis] + high[axis]) / 2
    const span = (axis: 0 | 1 | 2) => high[axis] - low[axis]
    const corners = [low[0], high[0]].flatMap(x => [low[1], high[1]].map(y => [x, y] as const))
    corners.forEach(([x, y], i) => {
      this.box(`post-${i + 1}`, `Post ${i + 1}`, 'structure', [x, y, mid(2)], [section, section, span(2)])
    })
    let n = 0
    for (const z of [low[2] + section / 2, high[2] - section / 2]) {
      for (const y of [low[1], high[1]])
        this.box(
          `beam-${++n}`,
          `Beam ${n}`,
          'structure',
          [mid(0), y, z],
          [span(0) - section, section, section],
        )
      for (const x of [low[0], high[0]])
        this.box(
          `beam-${++n}`,
          `Beam ${n}`,
          'structure',
          [x, mid(1), z],
          [section, span(1) - section, section],
        )
    }
    return this
  }

  run(
    tag: string,
    service: string,
    of: Size,
    ends: readonly [string | Vec3, string | Vec3],
    vertices: readonly Vec3[],
    other: Partial<Run> = {},
  ): this {
    const end = (e: string | Vec3): RunEnd =>
      typeof e === 'string' ? { kind: 'port', fitting: e } : { kind: 'free', at: e }
    this.runs.push({
      id: tag.toLowerCase(),
      tag,
      service,
      tube: SIZES[of].tube,
      clr: SIZES[of].clr,
      bender: this.benders[0]?.id ?? null,
      endA: end(ends[0]),
      vertices: vertices.map((at, i) => ({ id: `v${i + 1}`, at })),
      endB: end(ends[1]),
      trimAllowance: 0,
      insulation: 0,
      quantity: 1,
      ...other,
    })
    return this
  }

  /** A clamp round the run's tube, of a type that is ordered by its OD. */
  support(tag: string, at: Vec3): this {
    const run = this.runs.find(r => r.tag === tag)
    if (!run) throw new Error(`support: found no run "${tag}"`)
    const n = this.supports.length + 1
    const type = `tube clamp, ${run.tube.od} mm`
    this.supports.push({ id: `c${n}`, name: `Clamp ${n}`, type, run: run.id, at })
    return this
  }

  document(supportSpan: number | null = null): SkidDocument {
    return {
      format: 'dogleg-skid',
      version: 2,
      name: this.name,
      note: `${this.note} Invented for the demo: no such plant exists.`,
      invented: true,
      fittings: this.fittings,
      solids: this.solids,
      models: [],
      benders: this.benders,
      runs: this.runs,
      supports: this.supports,
      supportSpan,
      clearances: DEFAULT_CLEARANCES,
      acceptances: [],
      viewpoints: [],
    }
  }
}
