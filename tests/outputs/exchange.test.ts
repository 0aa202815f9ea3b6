import { createRequire } from 'node:module'
import type { OpenCascadeInstance } from 'replicad-opencascadejs'
import type { BufferGeometry, Mesh } from 'three'
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js'
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { type SolidTube, solidTubes } from '../../src/outputs/solidTubes.ts'
import { tubeMesh } from '../../src/outputs/tubeMesh.ts'
import { writeGlb } from '../../src/outputs/writeGlb.ts'
import { writeStep } from '../../src/outputs/writeStep.ts'
import { writeStl } from '../../src/outputs/writeStl.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveDocument, solveRoute } from '../../src/solve/solveRun.ts'
import { cadKernel } from '../cadKernel.ts'
import { seeded } from '../random.ts'
import { SAMPLE, SOLVED } from './sampleDocument.ts'

const TUBES = solidTubes(SAMPLE, SOLVED)
const STEP = { date: '2026-01-02T03:04:05Z', name: 'invented.step' }
const trueVolume = (t: SolidTube) => (Math.PI * (t.od ** 2 - (t.od - 2 * t.wall) ** 2) * t.length) / 4

interface Box {
  min: [number, number, number]
  max: [number, number, number]
}
const emptyBox = (): Box => ({ min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] })
function grow(box: Box, p: Vec3, by: Vec3 = [0, 0, 0]) {
  for (const k of [0, 1, 2] as const) {
    box.min[k] = Math.min(box.min[k], p[k] - by[k])
    box.max[k] = Math.max(box.max[k], p[k] + by[k])
  }
}
/** Bounding box of the tube by sampled discs: half width of a disc along axis k is r·√(1 − d_k²). */
function discBox(t: SolidTube): Box {
  const box = emptyBox()
  for (const p of t.pieces) {
    const steps = p.kind === 'line' ? 1 : 2000
    for (let i = 0; i <= steps; i++) {
      let at = i === 0 ? p.start : p.end
      let d = p.direction
      if (p.kind === 'arc') {
        const a = (p.angleRad * i) / steps
        const out: Vec3 = [p.start[0] - p.centre[0], p.start[1] - p.centre[1], p.start[2] - p.centre[2]]
        const mix = (u: Vec3, v: Vec3, c: number, s: number): Vec3 => [
          u[0] * c + v[0] * s,
          u[1] * c + v[1] * s,
          u[2] * c + v[2] * s,
        ]
        const r = mix(out, p.direction, Math.cos(a), p.radius * Math.sin(a))
        at = [p.centre[0] + r[0], p.centre[1] + r[1], p.centre[2] + r[2]]
        d = mix(p.direction, out, Math.cos(a), -Math.sin(a) / p.radius)
      }
      const half = (x: number) => (t.od / 2) * Math.sqrt(Math.max(0, 1 - x * x))
      grow(box, at, [half(d[0]), half(d[1]), half(d[2])])
    }
  }
  return box
}
function expectBoxNear(found: Box, wanted: Box, within: number) {
  for (const k of [0, 1, 2] as const) {
    expect(Math.abs(found.min[k] - wanted.min[k])).toBeLessThan(within)
    expect(Math.abs(found.max[k] - wanted.max[k])).toBeLessThan(within)
  }
}

/** Corners of every triangle of a three.js geometry, mm in the skid frame. */
function corners(geometry: BufferGeometry, toSkid: (p: Vec3) => Vec3): Vec3[] {
  const flat = geometry.index ? geometry.toNonIndexed() : geometry
  const at = flat.getAttribute('position')
  return Array.from({ length: at.count }, (_, i) => toSkid([at.getX(i), at.getY(i), at.getZ(i)]))
}
function volumeOf(c: readonly Vec3[]): number {
  const o = c[0]!
  let six = 0
  for (let i = 0; i + 2 < c.length; i += 3) {
    const [a, b, d] = [c[i]!, c[i + 1]!, c[i + 2]!].map(p => [p[0] - o[0], p[1] - o[1], p[2] - o[2]] as const)
    six +=
      a![0] * (b![1] * d![2] - b![2] * d![1]) +
      a![1] * (b![2] * d![0] - b![0] * d![2]) +
      a![2] * (b![0] * d![1] - b![1] * d![0])
  }
  return six / 6
}
/** Every edge must be run through as often one way as the other: no hole, no face turned over. */
function expectWatertight(c: readonly Vec3[]) {
  const edges = new Map<string, number>()
  const key = (p: Vec3) => p.map(x => Math.fround(x)).join(' ')
  for (let i = 0; i + 2 < c.length; i += 3)
    for (const [a, b] of [
      [i, i + 1],
      [i + 1, i + 2],
      [i + 2, i],
    ] as const) {
      const [from, to] = [key(c[a]!), key(c[b]!)]
      if (from === to) throw new Error(`an edge without length at ${from}`)
      const name = from < to ? `${from}|${to}` : `${to}|${from}`
      edges.set(name, (edges.get(name) ?? 0) + (from < to ? 1 : -1))
    }
  expect([...edges.values()].filter(n => n !== 0)).toEqual([])
}
function expectTube(c: readonly Vec3[], t: SolidTube, chord: number) {
  const box = emptyBox()
  for (const p of c) grow(box, p)
  expectBoxNear(box, discBox(t), chord + 1e-3)
  // Chords cut the outside and the bore by at most the chord error each, over their whole surface.
  const most = Math.PI * (2 * t.od - 2 * t.wall) * t.length * chord
  expect(Math.abs(volumeOf(c) - trueVolume(t))).toBeLessThan(most)
}

describe('triangles', () => {
  test('the mesh of every tube is watertight and no point of it is off the true surface', () => {
    for (const t of TUBES) {
      const m = tubeMesh(t, 0.05)
      const c = m.indices.map(i => m.positions[i]!)
      expectWatertight(c)
      expectTube(c, t, 0.05)
    }
  })

  test('halving the chord error brings the volume nearer to the true one', () => {
    const t = TUBES[0]!
    const errors = [0.4, 0.1, 0.025, 0.00625].map(e => {
      const m = tubeMesh(t, e)
      return Math.abs(volumeOf(m.indices.map(i => m.positions[i]!)) / trueVolume(t) - 1)
    })
    for (let i = 1; i < errors.length; i++) expect(errors[i]!).toBeLessThan(errors[i - 1]! / 2)
    expect(errors[3]!).toBeLessThan(0.01)
  })

  test('STL read back by three.js: watertight, volume and bounding box of the tubes', () => {
    for (const t of TUBES) {
      const bytes = writeStl([t], 0.05)
      const geometry = new STLLoader().parse(bytes.buffer as ArrayBuffer)
      const c = corners(geometry, p => p)
      expectWatertight(c)
      expectTube(c, t, 0.05)
    }
  })

  test('GLB read back by three.js: names, metres with +y up, volume and bounding box of the tubes', async () => {
    const bytes = writeGlb(TUBES, 0.05)
    const gltf = await new GLTFLoader().parseAsync(bytes.buffer as ArrayBuffer, '')
    const meshes: Mesh[] = []
    gltf.scene.updateMatrixWorld(true)
    gltf.scene.traverse(o => {
      if ((o as Mesh).isMesh) meshes.push(o as Mesh)
    })
    expect(meshes.length).toBe(TUBES.length)
    meshes.forEach((mesh, i) => {
      const t = TUBES[i]!
      const data = mesh.userData as { lengthMm?: number; name?: string }
      expect(data.lengthMm).toBe(t.length)
      expect(data.name ?? mesh.name).toBe(t.tag)
      const geometry = mesh.geometry.clone().applyMatrix4(mesh.matrixWorld)
      const c = corners(geometry, p => [p[0] * 1000, -p[2] * 1000, p[1] * 1000])
      expectTube(c, t, 0.05)
      expectWatertight(corners(mesh.geometry, p => p))
    })
  })

  test('an overrun straight, a wall without a bore and a bad chord error are refused by name', () => {
    const tight = { ...SAMPLE, runs: [{ ...SAMPLE.runs[0]!, clr: 260 }] }
    expect(() => solidTubes(tight, solveDocument(tight))).toThrow(/run T-101: straight \d: found -/)
    const full = {
      ...SAMPLE,
      runs: [{ ...SAMPLE.runs[0]!, tube: { ...SAMPLE.runs[0]!.tube, wall: 6 } }],
    }
    expect(() => solidTubes(full, solveDocument(full))).toThrow(/wanted a tube with a bore/)
    expect(() => tubeMesh(TUBES[0]!, 0)).toThrow(/chord error: found 0 mm/)
  })
})

const SEED = 41
describe(`STEP read by CAD kernels that we did not write, seed ${SEED}`, () => {
  let oc: OpenCascadeInstance
  beforeAll(async () => {
    oc = await cadKernel()
  }, 60_000)

  const read = (text: string) => {
    oc.FS.writeFile('/in.step', text)
    const reader = new oc.STEPControl_Reader()
    expect(String(reader.ReadFile('/in.step'))).toMatch(/IFSelect_RetDone|1/)
    reader.TransferRoots(new oc.Message_ProgressRange())
    return reader
  }

  const expectSolid = (shape: ReturnType<ReturnType<typeof read>['Shape']>, t: SolidTube) => {
    expect(new oc.BRepCheck_Analyzer(shape, true, false, false).IsValid()).toBe(true)
    const props = new oc.GProp_GProps()
    oc.BRepGProp.VolumeProperties(shape, props, true, false, false)
    expect(Math.abs(props.Mass() / trueVolume(t) - 1)).toBeLessThan(1e-9)
    const area = new oc.GProp_GProps()
    oc.BRepGProp.SurfaceProperties(shape, area, false, false)
    const ends = (Math.PI * (t.od ** 2 - (t.od - 2 * t.wall) ** 2)) / 2
    const wanted = Math.PI * (2 * t.od - 2 * t.wall) * t.length + ends
    expect(Math.abs(area.Mass() / wanted - 1)).toBeLessThan(1e-9)
    const box = new oc.Bnd_Box()
    oc.BRepBndLib.AddOptimal(shape, box, false, false)
    const lo = box.CornerMin()
    const hi = box.CornerMax()
    expectBoxNear({ min: [lo.X(), lo.Y(), lo.Z()], max: [hi.X(), hi.Y(), hi.Z()] }, discBox(t), 1e-3)
  }

  test('each tube is a valid solid with the true volume, area and bounding box', () => {
    const reader = read(writeStep(TUBES, STEP))
    expect(reader.NbShapes()).toBe(TUBES.length)
    TUBES.forEach((t, i) => {
      expectSolid(reader.Shape(i + 1), t)
    })
  })

  test('20 random tubes are valid solids with the true volume, area and bounding box', () => {
    const random = seeded(SEED)
    for (let n = 0; n < 20; n++) {
      const od = random.between(4, 20)
      const clr = od * random.between(1.5, 4)
      const bends = Array.from({ length: random.whole(0, 6) }, () => ({
        angle: random.between(5, 170),
        rotation: random.between(-180, 180),
      }))
      const straights = Array.from({ length: bends.length + 1 }, (_, i) =>
        n % 4 === 0 && i === 1 && bends.length > 1 ? 0 : random.between(5, 300),
      )
      const points = rowsToPoints({ straights, bends }, clr, {
        ...PLAIN_FRAME,
        origin: [random.between(-999, 999), random.between(-999, 999), random.between(-999, 999)],
      })
      const ids = points.map((_, k) => `p${k}`)
      const solved = solveRoute(points, ids, clr)
      if (!solved.ok) throw new Error(solved.problem.message)
      const { pieces, developedLength: length } = solved.route
      const t: SolidTube = {
        runId: 'r',
        tag: `R${n}`,
        od,
        wall: od * random.between(0.05, 0.4),
        material: '316',
        pieces: pieces.filter(p => p.to - p.from > 1e-6),
        length,
      }
      const reader = read(writeStep([t], STEP))
      expect(reader.NbShapes()).toBe(1)
      expectSolid(reader.Shape(1), t)
    }
  })

  test('faces are cylinders, tori and two planes, by count; nothing is a free-form surface', () => {
    const t = TUBES[0]!
    const kinds = new Map<string, number>()
    const faces = new oc.TopExp_Explorer(
      read(writeStep([t], STEP)).Shape(1),
      oc.TopAbs_ShapeEnum.TopAbs_FACE,
      oc.TopAbs_ShapeEnum.TopAbs_SHAPE,
    )
    for (; faces.More(); faces.Next()) {
      const kind = String(new oc.BRepAdaptor_Surface(oc.TopoDS.Face(faces.Current()), true).GetType())
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1)
    }
    const lines = t.pieces.filter(p => p.kind === 'line').length
    const arcs = t.pieces.length - lines
    expect([...kinds.values()].sort((a, b) => a - b)).toEqual([2, 4 * arcs, 4 * lines].sort((a, b) => a - b))
    expect(kinds.get('GeomAbs_Torus')).toBe(4 * arcs)
    expect(kinds.get('GeomAbs_Cylinder')).toBe(4 * lines)
  })

  test('an import-only kernel finds one named part per run, in millimetres', async () => {
    const occt = await createRequire(import.meta.url)('occt-import-js')()
    const result = occt.ReadStepFile(new TextEncoder().encode(writeStep(TUBES, STEP)), {
      linearUnit: 'millimeter',
      linearDeflectionType: 'absolute_value',
      linearDeflection: 0.05,
      angularDeflection: 0.2,
    })
    expect(result.success).toBe(true)
    expect(result.meshes.map((m: { name: string }) => m.name)).toEqual(TUBES.map(t => t.tag))
    result.meshes.forEach(
      (m: { attributes: { position: { array: number[] } }; index: { array: number[] } }, i: number) => {
        const at = m.attributes.position.array
        const c = m.index.array.map((k): Vec3 => [at[3 * k]!, at[3 * k + 1]!, at[3 * k + 2]!])
        expect(Math.abs(volumeOf(c) / trueVolume(TUBES[i]!) - 1)).toBeLessThan(0.01)
      },
    )
  })
})
