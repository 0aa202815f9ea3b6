import type { Vec3 } from '../geometry/vec3.ts'
import type { Bender, Clearances, Run, SkidDocument } from './types.ts'

/**
 * Gaps a new document asks for between outsides, mm. Common practice, no source: a finger's width between tubes,
 * room to wrap a hand or a clip round a tube beside equipment, and a tube that is not stepped on. The user's to change.
 */
export const DEFAULT_CLEARANCES: Clearances = {
  tube: 10,
  equipment: 25,
  structure: 15,
  fitting: 5,
  floor: 50,
  keepOut: 0,
}

/** A document of this name with nothing in it. */
export function emptyDocument(name: string): SkidDocument {
  return {
    format: 'dogleg-skid',
    version: 2,
    name,
    note: '',
    invented: false,
    fittings: [],
    solids: [],
    models: [],
    benders: [],
    runs: [],
    supports: [],
    supportSpan: null,
    clearances: DEFAULT_CLEARANCES,
    acceptances: [],
    viewpoints: [],
  }
}

/** What a bare list of points does not say of its tube. */
export interface TubeOfRoutes {
  /** Shown as the document's name. */
  readonly name: string
  readonly od: number
  readonly wall: number
  readonly clr: number
  readonly bender: Bender | null
}
export interface TaggedPoints {
  readonly tag: string
  readonly points: readonly Vec3[]
}

/**
 * A document of runs of one tube through these points, all ends free, mm.
 *
 * @throws RangeError for fewer than two points: a run has two ends.
 */
export function documentOfRoutes(routes: readonly TaggedPoints[], tube: TubeOfRoutes): SkidDocument {
  const { name, od, wall, clr, bender } = tube
  return {
    ...emptyDocument(name),
    benders: bender ? [bender] : [],
    runs: routes.map(({ tag, points }, i) => ({
      id: `run${i + 1}`,
      tag,
      service: '',
      tube: { catalogueId: null, od, wall, material: 'not given' },
      clr,
      bender: bender?.id ?? null,
      ...routeThrough(points),
      trimAllowance: 0,
      insulation: 0,
      quantity: 1,
    })),
  }
}

function routeThrough(points: readonly Vec3[]): Pick<Run, 'endA' | 'vertices' | 'endB'> {
  const [first, ...rest] = points
  const last = rest.pop()
  if (!first || !last)
    throw new RangeError(
      `the route: found ${points.length} point${points.length === 1 ? '' : 's'}, wanted at least two, end A and end B`,
    )
  return {
    endA: { kind: 'free', at: first },
    vertices: rest.map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: { kind: 'free', at: last },
  }
}
