import { describe, expect, test } from 'vitest'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import {
  detailFor,
  FULL_DETAIL,
  overrunDashes,
  overrunLines,
  PLAIN_DETAIL,
  type TubeMesh,
  tubeMesh,
} from '../../src/view/scene/tubeGeometry.ts'

function solved(points: Vec3[], clr: number) {
  const result = solveRoute(
    points,
    points.map((_, i) => `p${i}`),
    clr,
  )
  if (!result.ok) throw new Error(result.problem.message)
  return result.route
}

/** Signed volume by the divergence theorem, mm³: positive when the triangles face outwards. */
function volume({ positions: p, index }: TubeMesh): number {
  let six = 0
  for (let t = 0; t < index.length; t += 3) {
    const [a, b, c] = [index[t]! * 3, index[t + 1]! * 3, index[t + 2]! * 3]
    six +=
      p[a]! * (p[b + 1]! * p[c + 2]! - p[b + 2]! * p[c + 1]!) +
      p[a + 1]! * (p[b + 2]! * p[c]! - p[b]! * p[c + 2]!) +
      p[a + 2]! * (p[b]! * p[c + 1]! - p[b + 1]! * p[c]!)
  }
  return six / 6
}

/** Edges, by place, that are not passed exactly once each way. */
function openEdges({ positions: p, index }: TubeMesh): number {
  const ids = new Map<string, number>()
  const place = (i: number) => {
    const key = [0, 1, 2].map(k => Math.round(p[i * 3 + k]! * 1000)).join()
    if (!ids.has(key)) ids.set(key, ids.size)
    return ids.get(key)!
  }
  const balance = new Map<string, number>()
  for (let t = 0; t < index.length; t += 3) {
    const tri = [place(index[t]!), place(index[t + 1]!), place(index[t + 2]!)] as const
    for (const [a, b] of [
      [tri[0], tri[1]],
      [tri[1], tri[2]],
      [tri[2], tri[0]],
    ] as const) {
      const key = a < b ? `${a},${b}` : `${b},${a}`
      balance.set(key, (balance.get(key) ?? 0) + (a < b ? 1 : -1))
    }
  }
  return [...balance.values()].filter(v => v !== 0).length
}

/** Area of the regular polygon that stands for a circle, over the circle's. */
const polygonShare = (n: number) => (n / (2 * Math.PI)) * Math.sin((2 * Math.PI) / n)

const route: Vec3[] = [
  [0, 0, 0],
  [200, 0, 0],
  [300, 100, 50],
  [300, 250, 150],
  [450, 250, 150],
]

describe('tube mesh', () => {
  for (const [name, detail] of [
    ['full', FULL_DETAIL],
    ['plain', PLAIN_DETAIL],
  ] as const) {
    test(`in ${name} detail its volume is that of Pappus: section area times developed length`, () => {
      const { pieces, developedLength } = solved(route, 38.1)
      const mesh = tubeMesh(pieces, 12.7, 1.245, detail)
      const section = Math.PI * (6.35 ** 2 - (6.35 - 1.245) ** 2) * polygonShare(detail.segments)
      // A chord under an arc is shorter by error/radius·(2/3) at most: 0.04/38.1 and 0.3/38.1, less than the share of
      // the arcs in the length; Pappus holds for the polygon as for the circle, its centroid being on the centre line.
      const short = (0.7 * detail.chordError) / 38.1
      const share = volume(mesh) / (section * developedLength)
      expect(share).toBeLessThan(1 + 1e-4)
      expect(share).toBeGreaterThan(1 - short - 1e-4)
    })
    test(`in ${name} detail it is closed, and so is a solid bar`, () => {
      const { pieces } = solved(route, 38.1)
      expect(openEdges(tubeMesh(pieces, 12.7, 1.245, detail))).toBe(0)
      expect(openEdges(tubeMesh(pieces, 12.7, 0, detail))).toBe(0)
    })
  }

  test('normals are unit and stand square off the triangles of the outer wall within a flat’s half angle', () => {
    const { pieces } = solved(route, 38.1)
    const { positions: p, normals: n, index, ranges } = tubeMesh(pieces, 12.7, 1.245, FULL_DETAIL)
    let worst = 1
    for (const { start, count } of ranges)
      for (let t = start; t < start + count; t += 3) {
        const [a, b, c] = [index[t]! * 3, index[t + 1]! * 3, index[t + 2]! * 3]
        const e = [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!] as const
        const f = [p[c]! - p[a]!, p[c + 1]! - p[a + 1]!, p[c + 2]! - p[a + 2]!] as const
        const g = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]] as const
        const l = Math.hypot(...g)
        expect(Math.hypot(n[a]!, n[a + 1]!, n[a + 2]!)).toBeCloseTo(1, 6)
        worst = Math.min(worst, (g[0] * n[a]! + g[1] * n[a + 1]! + g[2] * n[a + 2]!) / l)
      }
    expect(Math.acos(worst)).toBeLessThan(0.2)
  })

  test('an overrun straight has no tube, the parts beside it stay closed, and its dashes span what is missing', () => {
    const { pieces, straights } = solved(
      [
        [0, 0, 0],
        [100, 0, 0],
        [100, 50, 0],
        [200, 50, 0],
      ],
      38.1,
    )
    expect(straights[1]).toBeCloseTo(50 - 76.2, 9)
    const mesh = tubeMesh(pieces, 12.7, 1.245, FULL_DETAIL)
    expect(openEdges(mesh)).toBe(0)
    expect(mesh.ranges[2]!.count).toBe(0)
    expect(volume(mesh)).toBeGreaterThan(0)
    const [sleeve] = overrunLines(pieces)
    expect(sleeve!.to - sleeve!.from).toBeCloseTo(26.2, 9)
    expect(sleeve!.start[1]).toBeLessThan(sleeve!.end[1])
    const dashes = overrunDashes(pieces, 3)
    expect(dashes[0]![1]).toBeCloseTo(38.1, 9)
    for (const d of dashes) {
      expect(d[1]).toBeLessThanOrEqual(38.1 + 1e-9)
      expect(d[1]).toBeGreaterThanOrEqual(50 - 38.1 - 1e-9)
    }
  })

  test('a route of ten thousand bends is drawn coarser, not left out', () => {
    const points: Vec3[] = Array.from({ length: 10_002 }, (_, i) => [i * 100, (i % 2) * 100, 0])
    const { pieces } = solved(points, 20)
    const detail = detailFor(pieces, false)
    expect(detail.segments).toBeLessThan(PLAIN_DETAIL.segments)
    const mesh = tubeMesh(pieces, 6, 1, detail)
    expect(mesh.ranges.every(r => r.count > 0)).toBe(true)
    expect(detailFor(pieces.slice(0, 9), false)).toBe(FULL_DETAIL)
    expect(detailFor(pieces.slice(0, 9), true)).toBe(PLAIN_DETAIL)
  })
})
