import { expect, test } from 'vitest'
import { add, distance, dot, scale, sub, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { finishedTube, tapedLegs } from '../../src/solve/finishedTube.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { SolvedRun } from '../../src/solve/types.ts'
import { seeded } from '../random.ts'

const CLR = 36
const OD = 12
const SEED = 611

function randomTube(random: ReturnType<typeof seeded>) {
  const bends = Array.from({ length: random.whole(1, 5) }, () => ({
    angle: random.next() < 0.5 ? random.between(90, 150) : random.between(15, 88),
    rotation: random.between(-180, 180),
  }))
  const straights = Array.from({ length: bends.length + 1 }, () => random.between(40, 260))
  const insertions = { insertionA: random.between(0, 30), insertionB: random.between(0, 30) }
  const solve = (points: readonly Vec3[]) => {
    const result = solveRoute(
      points,
      points.map((_, i) => `p${i}`),
      CLR,
    )
    if (!result.ok) throw new Error(result.problem.message)
    return result.route
  }
  const route = solve(rowsToPoints({ straights, bends }, CLR, PLAIN_FRAME))
  // The same tube made without a word of ports: its outer straights longer by what goes in.
  const longer = [...straights]
  longer[0] = longer[0]! + insertions.insertionA
  longer[bends.length] = longer[bends.length]! + insertions.insertionB
  return { route, insertions, bare: solve(rowsToPoints({ straights: longer, bends }, CLR, PLAIN_FRAME)) }
}

test(`end to end is from end to end of the tube, insertions in it, the faces beside: 60 random tubes, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 60; i++) {
    const { route, insertions, bare } = randomTube(random)
    const tube = finishedTube(route, insertions)
    expect(tube.endToEnd).toBeCloseTo(distance(bare.points[0]!, bare.points.at(-1)!), 8)
    expect(tube.faceToFace).toBeCloseTo(distance(route.points[0]!, route.points.at(-1)!), 8)
    for (const face of tube.faces) {
      const end = face.end === 'A' ? tube.points[0]! : tube.points.at(-1)!
      expect(distance(face.at, end)).toBeCloseTo(face.fromEnd, 8)
    }
  }
})

test(`over the backs is the farthest that the tube's outside reaches along the leg, and only bends of 90° and more have one: 60 random tubes, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 60; i++) {
    const { route, insertions } = randomTube(random)
    const tube = finishedTube(route, insertions)
    const lines = tube.pieces.filter(p => p.kind === 'line')
    const arcs = tube.pieces.filter(p => p.kind === 'arc')
    tapedLegs(tube, OD).forEach((leg, k) => {
      const along = lines[k]!.direction
      const bends = [arcs[k - 1], arcs[k]].filter(a => a !== undefined)
      const square = bends.every(b => b.angleRad >= Math.PI / 2)
      expect(leg.overBacks === null).toBe(!square)
      // Corner by corner: the tube's own end, or the route's vertex.
      expect(leg.toCorners).toBeCloseTo(distance(tube.points[k]!, tube.points[k + 1]!), 8)
      if (leg.overBacks === null) return
      // Every point of the outside of the leg and of its bends, as far as they are sampled.
      const reach: number[] = [lines[k]!.start, lines[k]!.end].map(p => dot(along, p))
      for (const bend of bends)
        for (let s = 0; s <= 400; s++) {
          const { point, direction } = pointOn(bend, ((bend.to - bend.from) * s) / 400)
          // The outside of the section that points farthest along the leg, either way.
          const flat = sub(along, scale(direction, dot(along, direction)))
          const l = Math.hypot(...flat)
          for (const side of l > 1e-9 ? [1, -1] : [])
            reach.push(dot(along, add(point, scale(flat, (side * OD) / 2 / l))))
        }
      expect(leg.overBacks).toBeCloseTo(Math.max(...reach) - Math.min(...reach), 2)
    })
  }
})

test('a bend of 90° is taped as a fitter tapes it: from the end over the back is to the corner and half the OD', () => {
  const points: Vec3[] = [
    [0, 0, 0],
    [299, 0, 0],
    [299, 210, 0],
  ]
  const solved = solveRoute(points, ['A', 'v', 'B'], CLR)
  if (!solved.ok) throw new Error(solved.problem.message)
  const ends: Pick<SolvedRun, 'insertionA' | 'insertionB'> = { insertionA: 22, insertionB: 0 }
  const legs = tapedLegs(finishedTube(solved.route, ends), OD)
  expect(legs.map(l => [l.from, l.to])).toEqual([
    ['A', 0],
    [0, 'B'],
  ])
  expect(legs[0]!.toCorners).toBeCloseTo(321, 9)
  expect(legs[0]!.overBacks).toBeCloseTo(327, 9)
  expect(legs[1]!.toCorners).toBeCloseTo(210, 9)
})
