import type { Model } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import type { ReadModel } from '../../skid/models/modelTypes.ts'
import { fillTriangles } from './fillTriangles.ts'

/** Points spread evenly over a model's surface, in the file's own unit and axes. */
export interface SurfaceSample {
  /** x, y, z of each point. */
  readonly points: Float32Array
  /** Unit normal of each point's triangle. */
  readonly normals: Float32Array
}

const POINTS = 9000

/** The same points for the same file: chosen by area, with a generator that always starts alike. */
export function sampleModel({ parts }: Pick<ReadModel, 'parts'>): SurfaceSample {
  let area = 0
  for (const part of parts)
    eachTriangle(part, own => {
      area += own
    })
  const points = new Float32Array(3 * POINTS)
  const normals = new Float32Array(3 * POINTS)
  const step = area / POINTS
  const random = generator()
  let made = 0
  let passed = 0
  for (const part of parts)
    eachTriangle(part, (own, p, a, b, c, n) => {
      passed += own
      while (made < POINTS && passed > (made + 0.5) * step) {
        let u = random()
        let v = random()
        if (u + v > 1) [u, v] = [1 - u, 1 - v]
        for (let k = 0; k < 3; k++) {
          points[3 * made + k] = p[a + k]! + u * (p[b + k]! - p[a + k]!) + v * (p[c + k]! - p[a + k]!)
          normals[3 * made + k] = n[k]!
        }
        made++
      }
    })
  return { points: points.subarray(0, 3 * made), normals: normals.subarray(0, 3 * made) }
}

type Each = (
  area: number,
  p: ArrayLike<number>,
  a: number,
  b: number,
  c: number,
  normal: Float64Array,
) => void

function eachTriangle({ positions: p, indices }: ReadModel['parts'][number], each: Each): void {
  const normal = new Float64Array(3)
  for (let i = 0; i + 2 < indices.length; i += 3) {
    const a = 3 * indices[i]!
    const b = 3 * indices[i + 1]!
    const c = 3 * indices[i + 2]!
    const ux = p[b]! - p[a]!
    const uy = p[b + 1]! - p[a + 1]!
    const uz = p[b + 2]! - p[a + 2]!
    const vx = p[c]! - p[a]!
    const vy = p[c + 1]! - p[a + 1]!
    const vz = p[c + 2]! - p[a + 2]!
    const x = uy * vz - uz * vy
    const y = uz * vx - ux * vz
    const z = ux * vy - uy * vx
    const twice = Math.sqrt(x * x + y * y + z * z)
    if (twice === 0) continue
    normal[0] = x / twice
    normal[1] = y / twice
    normal[2] = z / twice
    each(twice / 2, p, a, b, c, normal)
  }
}

function generator(): () => number {
  let a = 1
  return () => {
    a = (Math.imul(a, 1664525) + 1013904223) >>> 0
    return a / 4294967296
  }
}

interface Look {
  readonly unitMm: number
  readonly up: Model['up']
  readonly skid: { readonly low: Vec3; readonly high: Vec3 } | null
  readonly ink: string
  readonly ground: string
  readonly frame: string
  readonly axis: string
}

/** Beside something this many times as large, a model is a dot: then the other is left out of the picture. */
const MOST_TIMES = 12

/** A model of more triangles is drawn by its sample: it changes with every unit that is tried. */
const MOST_FILLED = 200_000
/** The light comes over the left shoulder; very nearly of length 1. */
const LIGHT: Vec3 = [0.35, -0.45, 0.82]

/**
 * Draws the model, shaded, and the box of what is on the skid so far, to one scale.
 *
 * @param page `width` and `height` in the pen’s unit, `dense` pixels of the canvas to one of them.
 */
export function drawPreview(
  pen: CanvasRenderingContext2D,
  { width, height, dense }: { width: number; height: number; dense: number },
  parts: ReadModel['parts'],
  { points, normals }: SurfaceSample,
  { unitMm, up, skid, ink, ground, frame, axis }: Look,
): void {
  const [yaw, pitch] = [-Math.PI / 3.2, Math.PI / 7]
  const [cy, sy, cp, sp] = [Math.cos(yaw), Math.sin(yaw), Math.cos(pitch), Math.sin(pitch)]
  const eye: Vec3 = [cp * cy, cp * sy, sp]
  const onPage = (x: number, y: number, z: number): readonly [number, number, number] => [
    -sy * x + cy * y,
    -(-sp * cy * x - sp * sy * y + cp * z),
    eye[0] * x + eye[1] * y + eye[2] * z,
  ]
  const n = points.length / 3
  const seen = new Float64Array(3 * n)
  const own = { low: [Infinity, Infinity], high: [-Infinity, -Infinity] }
  for (let i = 0; i < n; i++) {
    const [x, y, z] = [points[3 * i]! * unitMm, points[3 * i + 1]! * unitMm, points[3 * i + 2]! * unitMm]
    const at = up === 'z' ? onPage(x, y, z) : onPage(x, -z, y)
    seen.set(at, 3 * i)
    for (let k = 0; k < 2; k++) {
      own.low[k] = Math.min(own.low[k]!, at[k]!)
      own.high[k] = Math.max(own.high[k]!, at[k]!)
    }
  }
  const corners = skid ? boxCorners(skid).map(c => onPage(c[0], c[1], c[2])) : []
  const box = {
    low: [0, 1].map(k => Math.min(own.low[k]!, ...corners.map(c => c[k]!))),
    high: [0, 1].map(k => Math.max(own.high[k]!, ...corners.map(c => c[k]!))),
  }
  const size = (b: { low: readonly number[]; high: readonly number[] }) =>
    Math.max(b.high[0]! - b.low[0]!, b.high[1]! - b.low[1]!)
  const frameIn = size(box) <= MOST_TIMES * size(own) ? box : own
  const scale = Math.min(
    (width - 36) / Math.max(1e-9, frameIn.high[0]! - frameIn.low[0]!),
    (height - 36) / Math.max(1e-9, frameIn.high[1]! - frameIn.low[1]!),
  )
  const px = (x: number) => width / 2 + (x - (frameIn.low[0]! + frameIn.high[0]!) / 2) * scale
  const py = (y: number) => height / 2 + (y - (frameIn.low[1]! + frameIn.high[1]!) / 2) * scale

  pen.clearRect(0, 0, width, height)
  pen.fillStyle = ground
  pen.fillRect(0, 0, width, height)
  if (skid) {
    pen.strokeStyle = frame
    pen.setLineDash([4, 3])
    pen.beginPath()
    for (const [a, b] of BOX_EDGES) {
      pen.moveTo(px(corners[a]![0]), py(corners[a]![1]))
      pen.lineTo(px(corners[b]![0]), py(corners[b]![1]))
    }
    pen.stroke()
    pen.setLineDash([])
  }
  drawUp(pen, axis, { x: 22, y: height - 16 }, onPage)
  if (parts.reduce((sum, p) => sum + p.indices.length / 3, 0) <= MOST_FILLED) {
    fillTriangles(pen, parts, {
      onPage: (x, y, z) =>
        up === 'z' ? onPage(x * unitMm, y * unitMm, z * unitMm) : onPage(x * unitMm, -z * unitMm, y * unitMm),
      scale: scale * dense,
      shift: [px(0) * dense, py(0) * dense],
      light: onPage(...LIGHT),
      ink,
      ground,
    })
    return
  }
  // Far points first.
  const order = Uint32Array.from({ length: n }, (_, i) => i).sort(
    (a, b) => seen[3 * a + 2]! - seen[3 * b + 2]!,
  )
  const covered = Math.max(1, size(own) * scale)
  const dot = Math.max(1.2, Math.min(5, covered / 55))
  pen.fillStyle = ink
  for (const i of order) {
    const normal: Vec3 =
      up === 'z'
        ? [normals[3 * i]!, normals[3 * i + 1]!, normals[3 * i + 2]!]
        : [normals[3 * i]!, -normals[3 * i + 2]!, normals[3 * i + 1]!]
    const facing = Math.abs(LIGHT[0] * normal[0] + LIGHT[1] * normal[1] + LIGHT[2] * normal[2])
    pen.globalAlpha = 1
    pen.fillStyle = ground
    const [x, y] = [px(seen[3 * i]!) - dot / 2, py(seen[3 * i + 1]!) - dot / 2]
    pen.fillRect(x, y, dot, dot)
    pen.fillStyle = ink
    pen.globalAlpha = 0.25 + 0.6 * (1 - facing)
    pen.fillRect(x, y, dot, dot)
  }
  pen.globalAlpha = 1
}

/** Three strokes in the corner: which way x, y and z point. */
function drawUp(
  pen: CanvasRenderingContext2D,
  colour: string,
  at: { x: number; y: number },
  onPage: (x: number, y: number, z: number) => readonly [number, number, number],
): void {
  pen.strokeStyle = colour
  pen.fillStyle = colour
  pen.lineWidth = 1.5
  pen.font = '11px system-ui, sans-serif'
  for (const [name, way] of [
    ['x', [1, 0, 0]],
    ['y', [0, 1, 0]],
    ['z', [0, 0, 1]],
  ] as const) {
    const [x, y] = onPage(way[0], way[1], way[2])
    pen.beginPath()
    pen.moveTo(at.x, at.y)
    pen.lineTo(at.x + 20 * x, at.y + 20 * y)
    pen.stroke()
    pen.fillText(name, at.x + 27 * x - 3, at.y + 27 * y + 4)
  }
  pen.lineWidth = 1
}

const boxCorners = ({ low, high }: { low: Vec3; high: Vec3 }): Vec3[] =>
  Array.from({ length: 8 }, (_, i) => [
    i & 1 ? high[0] : low[0],
    i & 2 ? high[1] : low[1],
    i & 4 ? high[2] : low[2],
  ])
const BOX_EDGES: readonly (readonly [number, number])[] = Array.from({ length: 8 }, (_, i) => i).flatMap(i =>
  [1, 2, 4].filter(bit => !(i & bit)).map(bit => [i, i | bit] as const),
)
