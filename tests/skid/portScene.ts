import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, RunEnd, SkidDocument, Solid } from '../../src/document/types.ts'
import { turnedAxes } from '../../src/geometry/convex.ts'
import { triangleAt, triangleTree } from '../../src/geometry/triangleTree.ts'
import {
  addScaled,
  cross,
  DEG,
  dot,
  scale,
  sub,
  turnDirection,
  unit,
  type Vec3,
} from '../../src/geometry/vec3.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { boxMesh } from '../geometry/boxMesh.ts'
import type { Random } from '../random.ts'

export interface PortScene {
  readonly document: SkidDocument
  readonly meshes: readonly MeshBody[]
}

const KINDS = ['equipment', 'structure', 'fitting'] as const

/** A body with `face` in its surface, `out` pointing away from it; sunk so that the face lies `deep` mm inside. */
function bodyUnder(random: Random, id: string, face: Vec3, out: Vec3, deep: number, fitting: string | null) {
  const base = { id, name: `Body ${id}`, kind: KINDS[random.whole(0, 2)]!, fitting }
  const size = random.between(30, 90)
  const at = (s: number) => addScaled(face, out, deep - s)
  const shape = random.whole(0, 4)
  if (shape === 0) return { ...base, shape: 'sphere' as const, at: at(size / 2), radius: size / 2 }
  if (shape === 1)
    return { ...base, shape: 'cylinder' as const, at: at(size / 2), axis: out, length: size, radius: size }
  if (shape === 2) {
    const axis = unit(cross(out, random.direction()))!
    return { ...base, shape: 'cylinder' as const, at: at(size / 2), axis, length: 200, radius: size / 2 }
  }
  if (shape === 3) return { ...base, shape: 'plane' as const, at: at(0), normal: out }
  return {
    ...base,
    shape: 'box' as const,
    at: at(size / 2),
    size: [size, random.between(30, 120), random.between(30, 120)] as Vec3,
    turn: turnOf([out, ...square(out)]),
  }
}

const square = (n: Vec3): [Vec3, Vec3] => {
  const seed: Vec3 = Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]
  const u = unit(cross(n, seed))!
  return [u, cross(n, u)]
}

/** Angles about the fixed x, then y, then z axis, degrees, that turn the world's axes to these. */
function turnOf([x, y, z]: readonly [Vec3, Vec3, Vec3]): Vec3 {
  const beta = Math.asin(Math.min(1, Math.max(-1, -x[2])))
  return [Math.atan2(y[2], z[2]) / DEG, beta / DEG, Math.atan2(x[1], x[0]) / DEG]
}

/**
 * Three runs between ports that stand on, in or beside bodies, some of them linked, some lagged, with a part of a model among
 * them; invented.
 */
export function portScene(random: Random): PortScene {
  const fittings: Fitting[] = []
  const solids: Solid[] = []
  const meshes: MeshBody[] = []
  const runs: Run[] = []
  const place = (): Vec3 => [random.between(-200, 200), random.between(-200, 200), random.between(-200, 200)]
  for (let k = 0; k < 3; k++) {
    const ends: RunEnd[] = []
    const stubs: Vec3[] = []
    for (const end of ['a', 'b']) {
      const id = `${end}${k}`
      const face = place()
      const axis = random.direction()
      fittings.push({
        id,
        name: `Port ${id}`,
        catalogueId: null,
        position: face,
        axis: scale(axis, random.between(0.5, 3)),
        insertionDepth: 10,
        straightNeeded: random.whole(0, 3) === 0 ? 0 : random.between(10, 30),
        tubeOd: null,
      })
      ends.push({ kind: 'port', fitting: id })
      stubs.push(addScaled(face, axis, random.between(70, 110)))
      // On, in, a hair off, or beside.
      const deep = [0, 0, random.between(1, 40), -0.1, -random.between(1, 20)][random.whole(0, 4)]!
      const linked = random.whole(0, 2) === 0 ? id : null
      if (random.whole(0, 5) > 0) solids.push(bodyUnder(random, `s${id}`, face, axis, deep, linked))
      else {
        const low = sub(face, [random.between(10, 60), random.between(10, 60), 40])
        meshes.push({
          id: `m${id}`,
          name: `Part ${id}`,
          kind: 'equipment',
          fitting: linked,
          tree: boxMesh(low, [low[0] + 70, low[1] + 70, face[2] + deep]),
        })
      }
    }
    const od = random.between(6, 14)
    runs.push({
      id: `r${k}`,
      tag: `T-${k}`,
      service: 'invented',
      tube: { catalogueId: null, od, wall: 1, material: 'invented' },
      clr: 2 * od,
      bender: null,
      endA: ends[0]!,
      vertices: stubs.map((at, i) => ({ id: `v${i}`, at })),
      endB: ends[1]!,
      trimAllowance: 0,
      insulation: random.whole(0, 2) === 0 ? random.between(3, 15) : 0,
      quantity: 1,
    })
  }
  return { document: { ...emptyDocument('Ports, invented'), invented: true, fittings, solids, runs }, meshes }
}

export interface SceneMotion {
  readonly by: number
  readonly mirrored: boolean
  readonly point: (p: Vec3) => Vec3
  readonly way: (v: Vec3) => Vec3
}

export function sceneMotion(random: Random, by: number, mirrored: boolean): SceneMotion {
  const [axis, angle] = [random.direction(), random.between(-3, 3)]
  const move: Vec3 = [random.between(-900, 900), random.between(-900, 900), random.between(-900, 900)]
  const way = (v: Vec3): Vec3 => turnDirection(mirrored ? [v[0], v[1], -v[2]] : v, axis, angle)
  return { by, mirrored, way, point: p => addScaled(move, way(p), by) }
}

/** The same scene elsewhere, all its figures with it. */
export function movedScene({ document, meshes }: PortScene, m: SceneMotion): PortScene {
  const end = (e: RunEnd): RunEnd => (e.kind === 'free' ? { ...e, at: m.point(e.at) } : e)
  const solid = (s: Solid): Solid => {
    const at = m.point(s.at)
    switch (s.shape) {
      case 'sphere':
        return { ...s, at, radius: s.radius * m.by }
      case 'cylinder':
        return { ...s, at, axis: m.way(s.axis), length: s.length * m.by, radius: s.radius * m.by }
      case 'plane':
        return { ...s, at, normal: m.way(s.normal) }
      case 'box': {
        const [x, y, z] = turnedAxes(s.turn).map(m.way) as [Vec3, Vec3, Vec3]
        // A box is its own mirror image: one axis the other way makes the frame right-handed again.
        const axes = [x, y, dot(cross(x, y), z) < 0 ? scale(z, -1) : z] as const
        return { ...s, at, size: scale(s.size, m.by), turn: turnOf(axes) }
      }
    }
  }
  const { clearances } = document
  return {
    document: {
      ...document,
      clearances: Object.fromEntries(
        Object.entries(clearances).map(([k, c]) => [k, c * m.by]),
      ) as unknown as typeof clearances,
      fittings: document.fittings.map(f => ({
        ...f,
        position: m.point(f.position),
        axis: m.way(f.axis),
        insertionDepth: f.insertionDepth * m.by,
        straightNeeded: f.straightNeeded * m.by,
      })),
      solids: document.solids.map(solid),
      runs: document.runs.map(r => ({
        ...r,
        tube: { ...r.tube, od: r.tube.od * m.by, wall: r.tube.wall * m.by },
        clr: r.clr * m.by,
        insulation: r.insulation * m.by,
        endA: end(r.endA),
        endB: end(r.endB),
        vertices: r.vertices.map(v => ({ ...v, at: m.point(v.at) })),
      })),
    },
    meshes: meshes.map(mesh => {
      const corners = Array.from({ length: mesh.tree.corners.length / 9 }, (_, i) =>
        triangleAt(mesh.tree, i).map(m.point),
      )
      return { ...mesh, tree: triangleTree(corners.flat(2), null) }
    }),
  }
}

/** The same scene in other words: runs end for end, lists in another order, every id another. */
export function renamedScene({ document, meshes }: PortScene): PortScene {
  const id = (old: string) => `zz-${[...old].reverse().join('')}`
  const fitting = (old: string | null) => (old === null ? null : id(old))
  const end = (e: RunEnd): RunEnd => (e.kind === 'port' ? { ...e, fitting: id(e.fitting) } : e)
  return {
    document: {
      ...document,
      fittings: [...document.fittings].reverse().map(f => ({ ...f, id: id(f.id) })),
      solids: [...document.solids].reverse().map(s => ({ ...s, id: id(s.id), fitting: fitting(s.fitting) })),
      runs: [...document.runs].reverse().map(r => ({
        ...r,
        id: id(r.id),
        endA: end(r.endB),
        endB: end(r.endA),
        vertices: [...r.vertices].reverse(),
      })),
    },
    meshes: [...meshes].reverse().map(m => ({ ...m, id: id(m.id), fitting: fitting(m.fitting) })),
  }
}

/** What `renamedScene` called something. */
export const oldName = (id: string): string => [...id.replace('zz-', '')].reverse().join('')
