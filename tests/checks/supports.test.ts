import { describe, expect, test } from 'vitest'
import { decide } from '../../src/checks/decisions.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import type { SkidDocument, Support } from '../../src/document/types.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import { pointAt } from '../../src/solve/centreLine.ts'
import { nearestAlong } from '../../src/solve/nearestAlong.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, runOf } from '../document/sampleDocument.ts'
import { randomDocument } from '../outputs/randomDocument.ts'
import { seeded } from '../random.ts'

/** From A 400 along x, a square bend of CLR 36, then 600 along y: the bend lies between 364 and 364 + 56.55 mm. */
const skid = (at: readonly Vec3[], span: number | null = null): SkidDocument => ({
  ...documentOf([runOf('r', [[400, 0, 0]], { endB: { kind: 'free', at: [400, 600, 0] } })]),
  supports: at.map(
    (p, i): Support => ({
      id: `c${i + 1}`,
      name: `Clamp ${i + 1}`,
      type: 'clamp 12, invented',
      run: 'r',
      at: p,
    }),
  ),
  supportSpan: span,
})
const DEVELOPED = 364 + 18 * Math.PI + 564
const found = (document: SkidDocument) =>
  runChecks(document, solveDocument(document)).findings.filter(f => f.rule.startsWith('support'))

describe('a support', () => {
  test('on the centre line of a straight is no finding, and no span is asked without a figure', () => {
    expect(
      found(
        skid([
          [200, 0, 0],
          [400, 400, 0],
        ]),
      ),
    ).toEqual([])
    expect(found(skid([]))).toEqual([])
  })

  test('half a millimetre off is let be, a hair more is a warning with figure and place', () => {
    expect(found(skid([[200, 0, 0.5]]))).toEqual([])
    expect(found(skid([[200, 0, 0.7]]))).toMatchObject([
      {
        id: 'supportOffTube:r:c1',
        rule: 'supportOffTube',
        severity: 'warning',
        where: { run: 'r', kind: 'support', index: null, other: 'c1' },
        measured: expect.closeTo(0.7, 9),
        limit: 0.5,
        unit: 'mm',
        message:
          "Clamp 1 stands 0.7 mm off the tube's centre line, 200 mm along the tube from end A; at most 0.5 mm fits round it",
      },
    ])
  })

  test('on a bend is a warning that says how far in; on its tangent point it is not', () => {
    expect(found(skid([[364, 0, 0]]))).toEqual([])
    // The middle of the arc: half of 56.55 mm from either tangent point.
    const d = 36 - 36 * Math.SQRT1_2
    const [f] = found(skid([[400 - d, d, 0]]))
    expect(f).toMatchObject({ id: 'supportInBend:r:c1', severity: 'warning', limit: 0 })
    expect(f!.measured).toBeCloseTo(9 * Math.PI, 9)
  })

  test('stays where it is bolted: a tube that moves away is said, and an accepted gap that grew opens again', () => {
    const first = found(skid([[200, 0, 2]]))[0]!
    const accepted = {
      finding: first.id,
      category: 'stays as built',
      reason: 'packed',
      by: 'N. N.',
      on: '2026-01-02',
      measured: first.measured,
      limit: first.limit,
    } as const
    expect(decide(found(skid([[200, 0, 2]])), [accepted]).decided[0]!.state).toBe('accepted')
    expect(decide(found(skid([[200, 0, 3]])), [accepted]).decided[0]!.state).toBe('reopened')
  })
})

describe('the stretch of tube between supports', () => {
  test('longer than asked is a finding of its two ends; just as long is none', () => {
    const all = found(skid([[250, 0, 0]], 300))
    expect(all.map(f => [f.id, f.severity, f.limit])).toEqual([['supportSpan:r:c1:B', 'warning', 300]])
    expect(all[0]!.measured).toBeCloseTo(DEVELOPED - 250, 9)
    expect(all[0]!.message).toBe(
      'from Clamp 1 to end B 734.55 mm of tube has no support; at most 300 mm is allowed',
    )
    expect(found(skid([[300, 0, 0]], DEVELOPED - 300))).toEqual([])
  })

  test('is known by its supports, in whatever order they are listed, and others leave its identity alone', () => {
    const ids = (d: SkidDocument) =>
      found(d)
        .map(f => f.id)
        .sort()
    const two = skid(
      [
        [100, 0, 0],
        [400, 500, 0],
      ],
      350,
    )
    expect(ids(two)).toEqual(['supportSpan:r:c1:c2'])
    expect(ids({ ...two, supports: [...two.supports].reverse() })).toEqual(['supportSpan:r:c1:c2'])
    expect(
      ids(
        skid(
          [
            [100, 0, 0],
            [400, 500, 0],
            [50, 0, 0],
          ],
          350,
        ),
      ),
    ).toEqual(['supportSpan:r:c1:c2'])
  })

  test('is not cut by a support that the tube has left', () => {
    expect(found(skid([[500, 0, 40]], 2000)).map(f => f.rule)).toEqual(['supportOffTube'])
    expect(
      found(skid([[300, 0, 5]], 600))
        .map(f => f.id)
        .sort(),
    ).toEqual(['supportOffTube:r:c1', 'supportSpan:r:A:B'])
  })

  test('is not asked of a run without supports when the document asks nothing', () => {
    expect(found({ ...skid([]), supportSpan: null })).toEqual([])
    expect(found(skid([], 500)).map(f => f.id)).toEqual(['supportSpan:r:A:B'])
  })
})

const SEED = 71
test(`the nearest point of the centre line is as near as the best of a dense sample, seed ${SEED}`, () => {
  const random = seeded(SEED)
  for (let i = 0; i < 60; i++) {
    const document = randomDocument(random, random.whole(0, 6))
    const route = solveDocument(document)[0]!.route!
    const base = route.points[random.whole(0, route.points.length - 1)]!
    const p = base.map(x => x + 300 * (random.next() - 0.5)) as unknown as Vec3
    const near = nearestAlong(route, p)
    expect(distance(near.point, p)).toBeCloseTo(near.distance, 9)
    expect(
      distance(pointAt(route, Math.min(near.along, route.developedLength)).point, near.point),
    ).toBeLessThan(1e-6)
    const step = route.developedLength / 4000
    let least = Number.POSITIVE_INFINITY
    for (let k = 0; k <= 4000; k++)
      least = Math.min(least, distance(pointAt(route, Math.min(k * step, route.developedLength)).point, p))
    expect(near.distance).toBeLessThanOrEqual(least + 1e-9)
    expect(near.distance).toBeGreaterThan(least - step)
  }
})
