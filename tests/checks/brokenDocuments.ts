import { knownBender } from '../../src/document/knownBenders.ts'
import type { Bender, Fitting, Run, SkidDocument, Solid, Tooling } from '../../src/document/types.ts'
import { addScaled, type Vec3 } from '../../src/geometry/vec3.ts'
import { solveRun } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import type { Random } from '../random.ts'

/** What a figure misses its limit by: a hair that rounding hides, up to what anybody sees. mm */
const MISSES = [2e-6, 3e-4, 0.004, 0.03, 0.3, 7]

/** A tube that bends on by itself when let go. */
const AHEAD_OF_ITS_DIAL = { material: '316', offset: -4, perDegree: 0.01, range: null }

const pick = <T>(random: Random, list: readonly T[]): T => list[random.whole(0, list.length - 1)]!

/**
 * A skid of one or two runs in which anything may be wrong: routes without a solution, straights that miss what they
 * need by a hair, tubes, dies, ports and supports that do not fit, neighbours too near, acceptances that no longer hold.
 */
export function brokenDocument(random: Random): SkidDocument {
  const miss = () => pick(random, MISSES)
  const rarely = () => random.next() < 0.06
  const often = () => random.next() < 0.4
  const points: Vec3[] = [[random.between(-90, 90), random.between(-90, 90), 300]]
  const headings: Vec3[] = []
  for (let n = random.whole(1, 4); n > 0; n--) {
    const level: Vec3 = pick(random, [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ])
    const heading = often() ? random.direction() : level
    headings.push(heading)
    points.push(addScaled(points.at(-1)!, heading, random.between(40, 260)))
  }
  if (rarely()) points.splice(1, 0, points[0]!)
  if (rarely()) points.splice(1, 0, addScaled(points[0]!, [1, 0, 0], 2e-7))
  if (rarely()) points.splice(1, 0, [Number.NaN, 0, 0])
  if (rarely()) points.push(points.at(-2) ?? points[0]!)
  if (often()) points.splice(1, 0, addScaled(points[0]!, headings[0]!, 31.3))
  if (rarely())
    points.splice(1, 0, addScaled(points[0]!, addScaled(headings[0]!, [0.004, 0.004, 0], 1), 31.3))
  if (rarely()) points.push(addScaled(points[0]!, [3, 3, 3], 1), addScaled(points[0]!, [3, 3, 203], 1))
  const table = knownBender('bench-left')!.bender
  const inches = often()
  const od = inches ? 12.7 : 12
  const run: Run = runOf('r', points.slice(1, -1), {
    tube: {
      catalogueId: often() ? (inches ? 'in-1_2-0.049' : 'mm-12-1.5') : rarely() ? 'no-such-tube' : null,
      od: rarely() ? od + 0.3 : od,
      wall: rarely() ? od / 2 + miss() : inches ? 1.2446 : 1.5,
      material: '316',
    },
    clr: rarely() ? od / 2 - miss() : rarely() ? -3 : rarely() ? 36.2 : inches ? 38.1 : 36,
    bender: rarely() ? null : 'bench-left',
    endA: often() ? { kind: 'port', fitting: rarely() ? 'gone' : 'a' } : { kind: 'free', at: points[0]! },
    endB: often() ? { kind: 'port', fitting: 'b' } : { kind: 'free', at: points.at(-1)! },
    insulation: often() ? 2.5 : 0,
  })
  const back = headings.at(-1)!
  const fittings: Fitting[] = [
    { ...port('a', points[0]!, often() ? [0, 0.02, 1] : headings[0]!), tubeOd: rarely() ? 12.02 : od },
    {
      ...port('b', points.at(-1)!, [-back[0], -back[1], -back[2]]),
      catalogueId: often() ? 'port-mm-12' : rarely() ? 'no-such-port' : null,
      tubeOd: rarely() ? 10 : null,
      insertionDepth: often() ? 22.002 : 22.2,
    },
  ]
  const bare = documentOf([run], fittings)
  const route = solveRun({ ...bare, benders: [table] }, run).route
  const short = route ? pick(random, route.straights) : 25
  const need = () => (often() ? Math.max(0, short + miss()) : random.between(10, 60))
  const bender: Bender = {
    ...table,
    tooling: table.tooling.map(
      (t): Tooling => ({
        ...t,
        clampGrip: often() ? need() : t.clampGrip,
        followerLength: often() ? need() : t.followerLength,
        maxAngle: rarely() ? 60 : t.maxAngle,
      }),
    ),
  }
  const beside = addScaled(points[0]!, [0, 1, 0], od / 2 + 10 - miss())
  const sphere = (id: string, radius: number): Solid => ({
    ...{ id, name: `Lamp ${id}`, kind: 'equipment', fitting: null, shape: 'sphere' },
    ...{ at: addScaled(beside, [0, 1, 0], 40), radius },
  })
  const solids: Solid[] = [sphere('s1', 40), ...(rarely() ? [sphere('s2', 0), sphere('s3', 60)] : [])]
  const along = route ? pick(random, route.pieces) : null
  const held = along
    ? addScaled(along.kind === 'line' ? along.start : along.end, [0, 1, 0], 0.5 + miss())
    : null
  const other = runOf('q', [], {
    endA: { kind: 'free', at: addScaled(points[0]!, [0, -1, 0], 24.5) },
    endB: { kind: 'free', at: addScaled(points[0]!, [400, -1, 0], 1) },
  })
  return {
    ...bare,
    fittings: fittings.map(f => (often() ? { ...f, straightNeeded: need() } : f)),
    runs: often() ? [run, other] : [run],
    solids,
    supports: held
      ? [
          { id: 'c1', name: 'Clamp 1', type: 'clamp, invented', run: 'r', at: held },
          { id: 'c2', name: 'Clamp 2', type: 'clamp, invented', run: 'r', at: along!.end },
        ]
      : [],
    supportSpan: often() ? (route?.developedLength ?? 100) - miss() : null,
    benders: [
      rarely()
        ? { ...bender, springback: [AHEAD_OF_ITS_DIAL] }
        : rarely()
          ? { ...bender, springback: [] }
          : rarely()
            ? { ...bender, tooling: bender.tooling.map(t => ({ ...t, stretchAt90: 2 * t.clr + miss() })) }
            : bender,
    ],
  }
}
