import { BufferAttribute, BufferGeometry, Matrix4 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { editRun } from '../../src/document/edits.ts'
import { sweep } from '../../src/geometry/swept.ts'
import { sweptGap } from '../../src/geometry/sweptGap.ts'
import { sweptMeshGap } from '../../src/geometry/sweptMeshGap.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import {
  addScaled,
  anySquareTo,
  cross,
  distance,
  lerp,
  turnAbout,
  turnDirection,
  type Vec3,
} from '../../src/geometry/vec3.ts'
import { createClearanceIndex } from '../../src/skid/clearanceIndex.ts'
import { solveDocument, solveRun } from '../../src/solve/solveRun.ts'
import type { Piece } from '../../src/solve/types.ts'
import { cadKernel, sweptSolid } from '../cadKernel.ts'
import type { Figure } from '../measure/figure.ts'
import { seeded } from '../random.ts'
import { cadDistance } from './cadDistance.ts'
import { moveRun, randomDocument, randomPlace, randomRun } from './randomScene.ts'
import { waveMesh } from './waveMesh.ts'

const SEED = 11
const WITHIN = 50
const PAIRS = 25
const BENDS = 6

/** The library's distance query looks for the other geometry's tree here; two copies of its types disagree on it. */
const withTree = (geometry: BufferGeometry, tree: MeshBVH) => Object.assign(geometry, { boundsTree: tree })

/** Figures on clearance. Every ratio is of two things measured one after the other on this machine. */
export async function skidFigures(): Promise<Figure[]> {
  return [...(await againstCadKernel()), ...againstTessellated(), ...growth()]
}

/** Six-bend tubes, outer solids, the same pairs for both. */
async function againstCadKernel(): Promise<Figure[]> {
  const oc = await cadKernel()
  const random = seeded(SEED)
  const pairs = Array.from({ length: PAIRS }, () =>
    (
      [
        ['a', [0, 0, 0]],
        ['b', randomPlace(random, 400)],
      ] as const
    ).map(([id, at]) => {
      const run = randomRun(random, id, at as Vec3, BENDS)
      const solved = solveRun({ ...randomDocument(random, 0, 0, 1), runs: [run] }, run)
      return { pieces: solved.route!.pieces, od: run.tube.od }
    }),
  )
  const swept = pairs.map(two => two.map(t => sweep(t.pieces, t.od / 2)))
  const round = () => {
    for (const [a, b] of swept) sweptGap(a!, b!, Infinity)
  }
  for (let k = 0; k < 40; k++) round()
  let ours = Infinity
  for (let k = 0; k < 20; k++) {
    const start = performance.now()
    round()
    ours = Math.min(ours, (performance.now() - start) / PAIRS)
  }
  // New tubes each time: the halves of arcs are made again, as after an edit.
  const fresh = performance.now()
  for (const two of pairs) {
    const [a, b] = two.map(t => sweep(t.pieces, t.od / 2))
    sweptGap(a!, b!, Infinity)
  }
  const first = (performance.now() - fresh) / PAIRS
  let cad = 0
  for (const two of pairs) {
    const [a, b] = two.map(t => sweptSolid(oc, t.pieces, t.od).solid)
    const times = Array.from({ length: 3 }, () => {
      const start = performance.now()
      cadDistance(oc, a!, b!)
      return performance.now() - start
    })
    cad += Math.min(...times) / PAIRS
    a!.delete()
    b!.delete()
  }
  return [
    {
      name: `bounded distance, pair of ${BENDS}-bend tubes (first time, with preparing them)`,
      value: `${(ours * 1000).toFixed(0)} µs (${(first * 1000).toFixed(0)} µs)`,
    },
    {
      name: 'the CAD kernel’s minimum distance on the same pairs ÷ bounded distance',
      value: `${(cad / ours).toFixed(0)}×`,
      aim: '≥ 1000×',
    },
  ]
}

/** Both sides certain to this, so both tubes of a tessellated pair get half. mm */
const EQUAL_ERROR = 0.01

/** Tubes as triangles with the chord error given, and their tree, ready for queries. */
function tessellated(pieces: readonly Piece[], radius: number, error: number): BufferGeometry {
  const around = Math.ceil(Math.PI / Math.acos(1 - error / 2 / radius))
  const rings: Vec3[][] = []
  const ring = (c: Vec3, x: Vec3, y: Vec3) =>
    rings.push(
      Array.from({ length: around }, (_, k) => {
        const a = (2 * Math.PI * k) / around
        return addScaled(addScaled(c, x, radius * Math.cos(a)), y, radius * Math.sin(a))
      }),
    )
  const first = pieces[0]!
  let x = anySquareTo(first.direction)
  ring(first.start, x, cross(first.direction, x))
  for (const piece of pieces) {
    if (piece.kind === 'line') {
      // Long slivers would be unfair: the other side's tree does better with compact triangles.
      const n = Math.max(1, Math.ceil(distance(piece.start, piece.end) / radius))
      for (let k = 1; k <= n; k++) ring(lerp(piece.start, piece.end, k / n), x, cross(piece.direction, x))
      continue
    }
    const step = 2 * Math.acos(1 - error / 2 / (piece.radius + radius))
    const n = Math.ceil(piece.angleRad / step)
    const start = x
    for (let k = 1; k <= n; k++) {
      const a = (piece.angleRad * k) / n
      x = turnDirection(start, piece.normal, a)
      const along = turnDirection(piece.direction, piece.normal, a)
      ring(turnAbout(piece.start, piece.centre, piece.normal, a), x, cross(along, x))
    }
  }
  const last = pieces[pieces.length - 1]!
  const indices: number[] = []
  for (let i = 0; i + 1 < rings.length; i++)
    for (let k = 0; k < around; k++) {
      const [a, b] = [i * around + k, i * around + ((k + 1) % around)]
      indices.push(a, b, a + around, b, b + around, a + around)
    }
  const caps = rings.length * around
  for (let k = 0; k < around; k++) {
    indices.push(caps, (k + 1) % around, k)
    indices.push(caps + 1, caps - around + k, caps - around + ((k + 1) % around))
  }
  const points = [...rings.flat(), first.start, last.end]
  const geometry = new BufferGeometry()
  geometry.setAttribute('position', new BufferAttribute(new Float32Array(points.flat()), 3))
  geometry.setIndex(indices)
  return geometry
}

/** three-mesh-bvh's closestPointToGeometry on tubes (and a mesh) with trees on both sides, at equal error. */
function againstTessellated(): Figure[] {
  const random = seeded(SEED + 1)
  const tube = (id: string, at: Vec3) => {
    const run = randomRun(random, id, at, BENDS)
    const { route } = solveRun({ ...randomDocument(random, 0, 0, 1), runs: [run] }, run)
    return { pieces: route!.pieces, radius: run.tube.od / 2 }
  }
  const PAIRS_HERE = 4
  let ours = 0
  let theirs = 0
  let worst = 0
  for (let k = 0; k < PAIRS_HERE; k++) {
    const [a, b] = [tube('a', [0, 0, 0]), tube('b', randomPlace(random, 500))]
    const [ga, gb] = [a, b].map(t => {
      const g = tessellated(t.pieces, t.radius, EQUAL_ERROR / 2)
      return { g, bvh: new MeshBVH(g) }
    })
    withTree(gb!.g, gb!.bvh)
    const found = timed(1, () => ga!.bvh.closestPointToGeometry(gb!.g, new Matrix4())!.distance)
    const [sa, sb] = [sweep(a.pieces, a.radius), sweep(b.pieces, b.radius)]
    for (let i = 0; i < 300; i++) sweptGap(sa, sb, Infinity)
    const exact = timed(100, () => sweptGap(sa, sb, Infinity)!.gap)
    ours += exact.ms
    theirs += found.ms
    if (exact.result > 0) worst = Math.max(worst, Math.abs(exact.result - found.result))
  }
  const { positions, indices } = waveMesh(316, 1000)
  const tree = triangleTree(positions, indices)
  const wave = new BufferGeometry()
  wave.setAttribute('position', new BufferAttribute(positions, 3))
  wave.setIndex(new BufferAttribute(indices, 1))
  const waveBvh = new MeshBVH(wave)
  let oursMesh = 0
  let theirsMesh = 0
  for (let k = 0; k < 2; k++) {
    const t = tube('m', [random.between(-150, 150), random.between(-150, 150), 300])
    const g = tessellated(t.pieces, t.radius, EQUAL_ERROR)
    withTree(g, new MeshBVH(g))
    const found = timed(1, () => waveBvh.closestPointToGeometry(g, new Matrix4())!.distance)
    const swept = sweep(t.pieces, t.radius)
    for (let i = 0; i < 20; i++) sweptMeshGap(swept, tree, Infinity)
    const exact = timed(20, () => sweptMeshGap(swept, tree, Infinity)!.gap)
    oursMesh += exact.ms
    theirsMesh += found.ms
    if (exact.result > 0) worst = Math.max(worst, Math.abs(exact.result - found.result))
  }
  return [
    {
      name: `closestPointToGeometry of tessellated tubes, ${EQUAL_ERROR} mm ÷ bounded distance`,
      value: `${(theirs / ours).toFixed(0)}×`,
      aim: '≥ 500×',
    },
    {
      name: `run against ${tree.order.length} triangles`,
      value: `${(oursMesh / 2).toFixed(2)} ms`,
    },
    {
      name: 'closestPointToGeometry of a tessellated tube on that mesh ÷ ours',
      value: `${(theirsMesh / oursMesh).toFixed(0)}×`,
      aim: '≥ 100×',
    },
    { name: 'largest difference between the two ways in these pairs', value: `${worst.toFixed(4)} mm` },
  ]
}

function timed<T>(times: number, work: () => T): { ms: number; result: T } {
  let ms = Infinity
  let result = work()
  for (let k = 0; k < times; k++) {
    const start = performance.now()
    result = work()
    ms = Math.min(ms, performance.now() - start)
  }
  return { ms, result }
}

const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[times.length >> 1]!

/** Runs of ten bends strewn at one density, a fifth as many solids, and a floor. */
function growth(): Figure[] {
  const figures: Figure[] = []
  for (const runs of [100, 300, 1000]) {
    const random = seeded(SEED)
    const side = 450 * Math.cbrt(runs)
    let document = randomDocument(random, runs, runs / 5, side, 10)
    let solved = solveDocument(document)
    let index = createClearanceIndex(WITHIN)
    let measured = 0
    const fullTimes: number[] = []
    for (let k = 0; k < 3; k++) {
      index = createClearanceIndex(WITHIN)
      const start = performance.now()
      measured = index.update(document, solved)
      fullTimes.push(performance.now() - start)
    }
    const full = median(fullTimes)
    const editTimes: number[] = []
    const EDITS = 61
    for (let k = 0; k < EDITS; k++) {
      const id = `r${random.whole(0, runs - 1)}`
      document = editRun(document, id, r => moveRun(r, randomPlace(random, 20)))
      // As in the app: only the edited run is solved anew.
      solved = solved.map((s, i) => (s.runId === id ? solveRun(document, document.runs[i]!) : s))
      const start = performance.now()
      index.update(document, solved)
      editTimes.push(performance.now() - start)
    }
    const again = median(editTimes)
    figures.push({
      name: `full check, ${runs} runs × 10 bends within ${WITHIN} mm, ${measured} pairs measured (edit re-check)`,
      value: `${full.toFixed(0)} ms (${again.toFixed(2)} ms)`,
    })
    figures.push({
      name: `full check ÷ edit re-check, ${runs} runs`,
      value: `${(full / again).toFixed(0)}×`,
      ...(runs === 1000 ? { aim: '≥ 200×' } : {}),
    })
  }
  return figures
}
