import { fittingsById, runOf } from '../document/lookUp.ts'
import type { BoxSolid, SkidDocument, Solid } from '../document/types.ts'
import { box, type Convex, cylinder, cylinderBetween, sphere, turnedAxes } from '../geometry/convex.ts'
import { type Swept, sweep } from '../geometry/swept.ts'
import { addScaled, scale, sub, unit, type Vec3 } from '../geometry/vec3.ts'
import { routePoints } from '../solve/solveRun.ts'
import type { SolvedRun } from '../solve/types.ts'
import { modelPartOf, nameOfBody } from './models/nameOfBody.ts'
import { placedBody } from './models/placedBody.ts'
import { type MeshBody, type MeshPart, type SolidPart, solidPart, type TubePart, tubePart } from './parts.ts'
import { shapeOfSolid } from './solidShape.ts'

/** Something that can be measured from or to. It names parts of the document, so it follows their edits. */
export type Thing =
  /** The outside of a run's tube. */
  | { readonly kind: 'tube'; readonly run: string }
  /** The centre line of a whole run. */
  | { readonly kind: 'centreLine'; readonly run: string }
  /** The centre line of one straight; 0 is at end A. */
  | { readonly kind: 'straight'; readonly run: string; readonly straight: number }
  /** A route point, sharp: 'A', a vertex id or 'B'. */
  | { readonly kind: 'point'; readonly run: string; readonly point: string }
  /** What the bend of a vertex turns about. */
  | { readonly kind: 'bendCentre'; readonly run: string; readonly point: string }
  /** The centre of a port's face. */
  | { readonly kind: 'port'; readonly fitting: string }
  | { readonly kind: 'solid'; readonly solid: string }
  /** A flat face: of a box 0 … 5 (two an axis, the plus side first), of a cylinder 0 and 1. */
  | { readonly kind: 'face'; readonly solid: string; readonly face: number }
  /** An edge of a box, 0 … 11: four along each axis. */
  | { readonly kind: 'edge'; readonly solid: string; readonly edge: number }
  /** A corner of a box, 0 … 7: bit k set is the plus side of axis k. */
  | { readonly kind: 'corner'; readonly solid: string; readonly corner: number }
  /** The axis of a cylinder, from end to end. */
  | { readonly kind: 'axis'; readonly solid: string }
  | { readonly kind: 'middle'; readonly solid: string }
  /** An imported body by the id of its mesh, or all measured bodies of a model by the model's id. */
  | { readonly kind: 'model'; readonly model: string }
  /** A place that stays where it is: the end of a shown gap, a point picked on a surface. */
  | { readonly kind: 'place'; readonly at: Vec3; readonly name: string }

/** A thing as geometry, mm. */
export interface Measurable {
  readonly name: string
  readonly shape:
    | { readonly kind: 'swept'; readonly swept: Swept; readonly grown: number }
    /** The outside of a run: tube and insulation. */
    | { readonly kind: 'tube'; readonly part: TubePart }
    | { readonly kind: 'convex'; readonly convex: Convex }
    /** A point, or a sphere about it. */
    | { readonly kind: 'point'; readonly at: Vec3; readonly radius: number }
    | { readonly kind: 'segment'; readonly a: Vec3; readonly b: Vec3; readonly direction: Vec3 }
    | { readonly kind: 'mesh'; readonly bodies: readonly MeshPart[] }
  /** Set for a whole solid: what the clearance check measures it as. */
  readonly body?: SolidPart
  /** What angles are measured from: along a line, or square to a face. Unit. */
  readonly direction: { readonly of: 'line' | 'face'; readonly way: Vec3 } | null
}

/** A centre line is swept as a thread this thick, mm, and the figure mended by it. */
export const THREAD = 1e-6

/** What a person calls the thing; null when the document has it no longer. */
export function thingName(document: SkidDocument, thing: Thing): string | null {
  if (thing.kind === 'place') return thing.name
  if (thing.kind === 'port') {
    const fitting = document.fittings.find(f => f.id === thing.fitting)
    return fitting ? `port of ${fitting.name}` : null
  }
  if (thing.kind === 'model') return nameOfBody(document, thing.model)
  if ('solid' in thing) {
    const solid = document.solids.find(s => s.id === thing.solid)
    if (!solid) return null
    return thing.kind === 'solid' ? solid.name : `${partWord(thing, solid)} of ${solid.name}`
  }
  const run = runOf(document, thing.run)
  if (!run) return null
  switch (thing.kind) {
    case 'tube':
      return `tube ${run.tag}`
    case 'centreLine':
      return `centre line of ${run.tag}`
    case 'straight':
      return `straight ${thing.straight + 1} of ${run.tag}`
    default: {
      const { point } = thing
      const at = run.vertices.findIndex(v => v.id === point)
      if (thing.kind === 'bendCentre') return at < 0 ? null : `bend centre at point ${at + 2} of ${run.tag}`
      if (point === 'A' || point === 'B') return `end ${point} of ${run.tag}`
      return at < 0 ? null : `point ${at + 2} of ${run.tag}`
    }
  }
}

const signed = (n: number, k: number) => `${(n >> k) & 1 ? '+' : '−'}${'xyz'[k]}`

/** What a face, edge or corner is called: by the sides of the solid's own axes that it lies on. */
export function partWord(thing: Extract<Thing, { solid: string }>, solid: Solid): string {
  switch (thing.kind) {
    case 'face':
      return solid.shape === 'cylinder'
        ? `${thing.face === 0 ? 'far' : 'near'} end`
        : `face ${thing.face & 1 ? '−' : '+'}${'xyz'[thing.face >> 1]}`
    case 'edge': {
      const k = thing.edge >> 2
      const [p, q] = [0, 1, 2].filter(i => i !== k) as [number, number]
      const n = ((thing.edge & 1) << p) | (((thing.edge >> 1) & 1) << q)
      return `edge ${signed(n, p)} ${signed(n, q)}`
    }
    case 'corner':
      return `corner ${[0, 1, 2].map(k => signed(thing.corner, k)).join(' ')}`
    default:
      return thing.kind
  }
}

/**
 * The thing as the document has it now.
 *
 * @throws RangeError saying what is missing or cannot be measured, as a sentence's end.
 */
export function measurableOf(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  meshes: readonly MeshBody[],
  thing: Thing,
): Measurable {
  const name = thingName(document, thing)
  if (name === null) throw new RangeError(`the ${wordOf(thing)} is no longer in the document`)
  const point = (at: Vec3): Measurable => ({
    name,
    shape: { kind: 'point', at, radius: 0 },
    direction: null,
  })
  const segment = (a: Vec3, b: Vec3, way: Vec3): Measurable => ({
    name,
    shape: { kind: 'segment', a, b, direction: way },
    direction: { of: 'line', way },
  })
  switch (thing.kind) {
    case 'place':
      return point(thing.at)
    case 'port': {
      const fitting = document.fittings.find(f => f.id === thing.fitting)!
      const way = unit(fitting.axis)
      return { ...point(fitting.position), direction: way && { of: 'line', way } }
    }
    case 'model': {
      const own = bodiesOf(meshes, thing.model)
      const [one] = own
      if (!one)
        throw new RangeError(
          `${name} is ${isLeftOut(document, thing.model) ? 'left out of measuring' : 'not loaded'}`,
        )
      return {
        name: one.id === thing.model ? one.name : name,
        shape: { kind: 'mesh', bodies: own.map(placedBody) },
        direction: null,
      }
    }
    case 'tube':
    case 'centreLine':
    case 'straight':
    case 'bendCentre':
      return onRoute(document, solved, thing, name, { point, segment })
    case 'point': {
      const route = routePoints(document, runOf(document, thing.run)!)
      const at = 'points' in route ? route.points[route.ids.indexOf(thing.point)] : undefined
      if (!at) throw new RangeError(`${name} has no place: a fitting is missing`)
      return point(at)
    }
    default: {
      const solid = document.solids.find(s => s.id === thing.solid)!
      return onSolid(solid, thing, name, { point, segment })
    }
  }
}

/** The body of that id, or all bodies of the model of that id. */
export function bodiesOf(meshes: readonly MeshBody[], id: string): readonly MeshBody[] {
  const one = meshes.find(m => m.id === id)
  return one ? [one] : meshes.filter(m => m.id.startsWith(`${id}/`))
}

function isLeftOut(document: SkidDocument, id: string): boolean {
  const found = modelPartOf(document, id)
  const part = found?.model.parts.find(p => p.key === found.key)
  return (part ?? found?.model)?.kind === 'leftOut'
}

interface Makers {
  readonly point: (at: Vec3) => Measurable
  readonly segment: (a: Vec3, b: Vec3, way: Vec3) => Measurable
}

function onRoute(
  document: SkidDocument,
  solved: readonly SolvedRun[],
  thing: Extract<Thing, { kind: 'tube' | 'centreLine' | 'straight' | 'bendCentre' }>,
  name: string,
  { point, segment }: Makers,
): Measurable {
  const run = runOf(document, thing.run)!
  const found = solved.find(s => s.runId === run.id)
  const route = found?.route
  if (!route) throw new RangeError(`${run.tag} has no tube: ${found?.problem?.message ?? 'it is not solved'}`)
  switch (thing.kind) {
    case 'tube': {
      const part = tubePart(run, found, fittingsById(document.fittings), undefined)
      if (!('key' in part) || part.kind !== 'run') throw new RangeError(`${run.tag} has no tube`)
      return { name, shape: { kind: 'tube', part }, direction: null }
    }
    case 'centreLine':
      return {
        name,
        shape: { kind: 'swept', swept: sweep(route.pieces, THREAD), grown: THREAD },
        direction: null,
      }
    case 'straight': {
      const piece = route.pieces.find(p => p.kind === 'line' && p.straight === thing.straight)
      if (!piece) throw new RangeError(`${name} is not there`)
      return segment(piece.start, piece.end, piece.direction)
    }
    case 'bendCentre': {
      const piece = route.pieces.find(p => p.kind === 'arc' && route.bends[p.bend]!.vertexId === thing.point)
      if (piece?.kind !== 'arc') throw new RangeError(`${name}: there is no bend`)
      return point(piece.centre)
    }
  }
}

function onSolid(
  solid: Solid,
  thing: Extract<Thing, { solid: string }>,
  name: string,
  { point, segment }: Makers,
): Measurable {
  const convex = shapeOfSolid(solid)
  switch (thing.kind) {
    case 'solid': {
      const part = solidPart(solid, undefined)
      const body = 'key' in part && part.kind === 'solid' ? { body: part } : {}
      if (solid.shape === 'sphere')
        return {
          name,
          shape: { kind: 'point', at: solid.at, radius: solid.radius },
          ...body,
          direction: null,
        }
      return {
        name,
        ...body,
        shape: { kind: 'convex', convex },
        direction:
          solid.shape === 'plane'
            ? { of: 'face', way: convex.directions[0]! }
            : solid.shape === 'cylinder'
              ? { of: 'line', way: convex.directions[0]! }
              : null,
      }
    }
    case 'middle':
      return point(solid.at)
    case 'axis': {
      if (solid.shape !== 'cylinder') throw new RangeError(`${solid.name} has no axis`)
      const way = convex.directions[0]!
      const [a, b] = [-0.5, 0.5].map(s => addScaled(solid.at, way, s * solid.length)) as [Vec3, Vec3]
      return segment(a, b, way)
    }
    case 'face': {
      const face = faceOf(solid, thing.face)
      if (!face) throw new RangeError(`${solid.name} has no face ${thing.face + 1}`)
      return {
        name,
        shape: { kind: 'convex', convex: face.plate },
        direction: { of: 'face', way: face.normal },
      }
    }
    case 'edge': {
      const ends = solid.shape === 'box' ? edgesOf(solid)[thing.edge] : undefined
      const way = ends && unit(sub(ends[1], ends[0]))
      if (!ends || !way) throw new RangeError(`${solid.name} has no edge ${thing.edge + 1}`)
      return segment(ends[0], ends[1], way)
    }
    case 'corner': {
      const at = solid.shape === 'box' ? cornersOf(solid)[thing.corner] : undefined
      if (!at) throw new RangeError(`${solid.name} has no corner ${thing.corner + 1}`)
      return point(at)
    }
  }
}

/** The eight corners; bit k of the index set is the plus side of axis k. */
export function cornersOf(solid: BoxSolid): Vec3[] {
  const axes = turnedAxes(solid.turn)
  return Array.from({ length: 8 }, (_, i) =>
    axes.reduce<Vec3>(
      (p, axis, k) => addScaled(p, axis, ((i >> k) & 1 ? 0.5 : -0.5) * solid.size[k]!),
      solid.at,
    ),
  )
}

/** The twelve edges by their ends: four along x, four along y, four along z. */
export function edgesOf(solid: BoxSolid): (readonly [Vec3, Vec3])[] {
  const corners = cornersOf(solid)
  return [0, 1, 2].flatMap(k =>
    corners.flatMap((from, i) => ((i >> k) & 1 ? [] : [[from, corners[i | (1 << k)]!] as const])),
  )
}

/** A flat face as a plate without thickness and its way out; null when the solid has no such face. */
export function faceOf(solid: Solid, face: number): { plate: Convex; normal: Vec3 } | null {
  if (solid.shape === 'box' && face >= 0 && face < 6) {
    const k = face >> 1
    const axis = turnedAxes(solid.turn)[k]!
    const normal = face & 1 ? scale(axis, -1) : axis
    const size = solid.size.map((s, i) => (i === k ? 0 : s)) as unknown as Vec3
    return { plate: box(addScaled(solid.at, normal, solid.size[k]! / 2), size, solid.turn), normal }
  }
  if (solid.shape === 'cylinder' && (face === 0 || face === 1)) {
    const axis = unit(solid.axis)
    const normal = axis && (face === 1 ? scale(axis, -1) : axis)
    return (
      normal && {
        plate: cylinder(addScaled(solid.at, normal, solid.length / 2), normal, 0, solid.radius),
        normal,
      }
    )
  }
  return null
}

/** A segment as a convex shape without thickness, a point as a sphere without radius. */
export function thin(shape: Measurable['shape']): Convex | null {
  if (shape.kind === 'segment') return cylinderBetween(shape.a, shape.b, 0, shape.direction)
  if (shape.kind === 'point') return sphere(shape.at, shape.radius)
  return shape.kind === 'convex' ? shape.convex : null
}

function wordOf(thing: Thing): string {
  if ('run' in thing) return 'run or its point'
  return thing.kind === 'port' ? 'fitting' : thing.kind === 'model' ? 'model' : 'solid'
}
