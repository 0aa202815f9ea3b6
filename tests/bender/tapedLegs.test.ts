import { expect, test } from 'vitest'
import { tapedLegs } from '../../src/bender/tapedLegs.ts'
import { add, cross, distance, dot, scale, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointOn } from '../../src/solve/centreLine.ts'
import { finishedTube } from '../../src/solve/finishedTube.ts'
import { PLAIN_FRAME, rowsToPoints } from '../../src/solve/rows.ts'
import { solveRoute } from '../../src/solve/solveRun.ts'
import type { ArcPiece, SolvedRun } from '../../src/solve/types.ts'
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

test(`legs are taped to corners on the centre line and over the backs, a back being where the outsides of two legs meet, or over 90° the outermost of the bend: 60 random tubes, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 60; i++) {
    const { route, insertions } = randomTube(random)
    const tube = finishedTube(route, insertions)
    const lines = tube.pieces.filter(p => p.kind === 'line')
    const arcs = tube.pieces.filter(p => p.kind === 'arc')
    tapedLegs(tube, OD).forEach((leg, k) => {
      const along = lines[k]!.direction
      expect(leg.toCorners).toBeCloseTo(distance(tube.points[k]!, tube.points[k + 1]!), 8)
      // How far each end of the leg reaches along it, out of the shapes alone.
      const reach = (bend: ArcPiece | undefined, next: Vec3 | undefined, end: Vec3, way: 1 | -1) => {
        if (!bend || !next) return way * dot(along, end)
        if (bend.angleRad <= Math.PI / 2) {
          // The outside lines of the two legs, in the bend's plane: this one's p + s·along, the next one's q + t·next.
          const out = (d: Vec3): Vec3 => scale(unit(sub(bend.centre, d))!, -OD / 2)
          const [here, there] = way > 0 ? [bend.start, bend.end] : [bend.end, bend.start]
          const p = add(here, out(here))
          const q = add(there, out(there))
          const n = cross(cross(along, next), next)
          return way * (dot(along, p) + dot(sub(q, p), n) / dot(along, n))
        }
        const reached: number[] = []
        for (let s = 0; s <= 2000; s++) {
          const { point, direction } = pointOn(bend, ((bend.to - bend.from) * s) / 2000)
          const flat = unit(sub(along, scale(direction, dot(along, direction))))
          for (const side of flat ? [1, -1] : [])
            reached.push(way * dot(along, add(point, scale(flat!, (side * OD) / 2))))
        }
        return Math.max(...reached)
      }
      const far = reach(arcs[k], lines[k + 1]?.direction, lines[k]!.end, 1)
      const near = reach(arcs[k - 1], lines[k - 1]?.direction, lines[k]!.start, -1)
      expect(leg.overBacks).toBeCloseTo(far + near, 3)
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
