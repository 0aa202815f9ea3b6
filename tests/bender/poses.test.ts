import { describe, expect, test } from 'vitest'
import { motionPlans } from '../../src/bender/clearStep.ts'
import { type BenchSetup, type BenchState, benchSetup } from '../../src/bender/housing.ts'
import { orderFrom } from '../../src/bender/layOut.ts'
import { placeAt } from '../../src/bender/motion.ts'
import type { TubePart } from '../../src/bender/tubePart.ts'
import { distance, type Vec3 } from '../../src/geometry/vec3.ts'
import type { Lead } from '../../src/solve/bendOrder.ts'
import { BENDERS } from './benders.ts'
import { lopsidedRun } from './randomRun.ts'
import { misfit, type P } from './replay.ts'

/** Of a straight its outer end: the inner one is where it is cut for what holds it. */
const pointsOf = (part: TubePart): Vec3[] =>
  part.kind === 'line'
    ? [part.to]
    : [part.centre, [0, 1, 2].map(i => part.centre[i]! + part.radius * part.out[i]!) as unknown as Vec3]

/** Key points of the parts of one kind, where the motion has them at `share` of its range. */
function pose(setup: BenchSetup, state: BenchState, motion: string, share: number) {
  const plan = motionPlans(setup, state).find(p => p.motion === motion)
  if (plan === undefined) return null
  const points = new Map<string, Vec3[]>()
  // The first job of a part has the whole of it, or all but what is held.
  for (const { parts, motion: m, reads } of plan.jobs)
    for (const part of parts) {
      const key = `${part.of.kind}${part.of.index}`
      if (points.has(key)) continue
      const [a, b] = reads.per * m.to >= reads.per * m.from ? [m.from, m.to] : [m.to, m.from]
      const turnedBack = motion === 'turn' && plan.to < 0
      const t = (turnedBack ? 1 - share : share) * (b - a) + a
      points.set(
        key,
        pointsOf(part).map(p => placeAt(m, p, t)),
      )
    }
  return points
}

function furthest(a: Map<string, Vec3[]>, b: Map<string, Vec3[]>, bendsOnly = false): number {
  let worst = 0
  let compared = 0
  for (const [key, points] of a) {
    const other = b.get(key)
    if (other === undefined || (bendsOnly && !key.startsWith('bend'))) continue
    points.forEach((p, i) => {
      worst = Math.max(worst, distance(p, other[i]!))
      compared++
    })
  }
  return compared > 0 ? worst : Number.NaN
}

describe.each(BENDERS.map(b => [b.id, b] as const))('on %s', (_, bender) => {
  describe.each(['A', 'B'] as const)('%s first', lead => {
    const { run, tooling } = lopsidedRun()
    const setup = benchSetup(run, bender, tooling, null, { trimAt: lead === 'A' ? 'B' : 'A' })
    const order = orderFrom(lead, 4)
    const state = (i: number): BenchState => ({
      ...order[i]!,
      before: order[i - 1] ?? null,
      made: b => order.slice(0, i).some(o => o.bend === b),
    })

    const at = (i: number, motion: string, share: number) => pose(setup, state(i), motion, share)!
    if (bender.kind === 'compression')
      test.each([1, 2, 3])('step %i: the tube is put in where the bend begins', i => {
        expect(pose(setup, state(i), 'slide', 1)).toBeNull()
        expect(furthest(at(i, 'putIn', 0), at(i, 'bend', 0))).toBeLessThan(1e-9)
      })
    else
      test.each([1, 2, 3])(
        'step %i: the slide ends where the turn begins, the turn where the bend begins',
        i => {
          expect(furthest(at(i, 'slide', 1), at(i, 'turn', 0))).toBeLessThan(1e-9)
          expect(furthest(at(i, 'turn', 1), at(i, 'bend', 0))).toBeLessThan(1e-9)
        },
      )

    if (bender.kind === 'rotaryDraw')
      test.each([1, 2, 3])('step %i: the slide begins where the bend before left the tube', i => {
        const left = pose(setup, state(i - 1), 'takeOut', 0)!
        const slide = pose(setup, state(i), 'slide', 0)!
        // Straights are left out by the clamp in one and not in the other: the bends tell.
        if (i > 1) expect(furthest(left, slide, true)).toBeLessThan(1e-9)
      })

    test.each([0, 1, 2, 3])(
      'step %i: the arm goes back from where it stood to the tube as the bend ended',
      i => {
        // Both seen from the arm, its own jobs; the stretches that the arm holds while bending are in one only.
        const [bend, back] = ['bend', 'armBack'].map(name => {
          const plan = motionPlans(setup, state(i)).find(p => p.motion === name)!
          return plan.jobs.filter(job => job.solids === setup.solids.arm)
        })
        let compared = 0
        for (const { parts, motion } of back!)
          for (const left of parts) {
            if (left.of.kind === 'bend' && left.of.index === order[i]!.bend) continue
            const same = (p: TubePart) =>
              p.kind === left.kind && p.of.kind === left.of.kind && p.of.index === left.of.index
            const drawn = bend!.find(job => job.parts.some(same))
            const part = drawn?.parts.find(same)
            if (!drawn || !part) continue
            pointsOf(part).forEach((p, e) => {
              const then = placeAt(drawn.motion, p, drawn.motion.to)
              expect(distance(then, placeAt(motion, pointsOf(left)[e]!, motion.to))).toBeLessThan(1e-9)
              compared++
            })
          }
        // The outer end of every straight, and two points of every bend made before.
        expect(compared).toBe(2 + i + 2 * i)
      },
    )

    test.each([0, 1, 2, 3])('step %i: the tube is lifted from where it lay while the arm went back', i => {
      expect(
        furthest(pose(setup, state(i), 'armBack', 0)!, pose(setup, state(i), 'takeOut', 0)!),
      ).toBeLessThan(1e-9)
    })

    test.each([0, 1, 2, 3])('step %i: without springback the bend ends where the tube is lifted from', i => {
      expect(furthest(pose(setup, state(i), 'bend', 1)!, pose(setup, state(i), 'takeOut', 0)!)).toBeLessThan(
        1e-9,
      )
    })
  })
})

test.each(['A', 'B'] as Lead[])(
  'after the last bend the tube that is lifted out is the route, %s first',
  lead => {
    const { run, tooling } = lopsidedRun()
    const bender = { ...BENDERS[0]!, hand: 'left' as const }
    const grip = { ...tooling, clampGrip: 0 }
    const setup = benchSetup(run, bender, grip, null, { trimAt: lead === 'A' ? 'B' : 'A' })
    const order = orderFrom(lead, 4)
    const lift = motionPlans(setup, {
      ...order[3]!,
      before: order[2]!,
      made: b => b !== order[3]!.bend,
    }).find(p => p.motion === 'takeOut')!
    const lines = lift.jobs.flatMap(job => job.parts).filter(p => p.kind === 'line')
    const route = run.route!.pieces.filter(p => p.kind === 'line')
    const straights = route.map((_, i) => {
      const line = lines.find(l => l.of.index === i)!
      const fromFront = lift.jobs[0]!.parts.includes(line)
      const outIsB = (lead === 'B') === fromFront
      const [a, b] = outIsB ? [line.from, line.to] : [line.to, line.from]
      return { start: [...a] as P, end: [...b] as P }
    })
    // Ends differ by insertions and trim: compare the inner straights and the outer ones' inner ends.
    const inner = (s: { start: P; end: P }[]) => s.slice(1, -1)
    const wanted = route.map(r => ({ start: [...r.start] as P, end: [...r.end] as P }))
    expect(straights).toHaveLength(5)
    expect(misfit(inner(straights), inner(wanted))).toBeLessThan(1e-9)
  },
)

test.each(['left', 'right'] as const)(
  'a wrapped tail springs back from where the bend ended to where it is lifted from, %s hand',
  hand => {
    const { run, tooling } = lopsidedRun()
    const bender = { ...BENDERS.find(b => b.kind === 'compression')!, hand }
    const springback = { material: 'x', offset: 1.5, perDegree: 0.03, range: null }
    const setup = benchSetup(run, bender, tooling, springback, { trimAt: 'B' })
    const order = orderFrom('B', 4)
    order.forEach((step, i) => {
      const made = (b: number) => order.slice(0, i).some(o => o.bend === b)
      const plans = motionPlans(setup, { ...step, before: order[i - 1] ?? null, made })
      const [bend, lift] = ['bend', 'takeOut'].map(name => plans.find(p => p.motion === name)!)
      const wrap = bend!.jobs.find(job => job.motion.kind === 'drawn' && job.side === 'tail')!
      const spring = bend!.jobs.find(job => job.motion.kind === 'turn' && job.motion.from > 0)!
      const out = lift!.jobs.find(job => job.side === 'tail')!.parts
      expect(out.length).toBe(wrap.parts.length)
      wrap.parts.forEach((part, j) => {
        pointsOf(part).forEach((p, e) => {
          const [began, ended] = [spring.motion.to, spring.motion.from].map(t =>
            placeAt(spring.motion, pointsOf(spring.parts[j]!)[e]!, t),
          )
          expect(spring.motion.to).toBeGreaterThan(spring.motion.from)
          expect(distance(placeAt(wrap.motion, p, wrap.motion.to), began!)).toBeLessThan(1e-9)
          expect(distance(ended!, pointsOf(out[j]!)[e]!)).toBeLessThan(1e-9)
        })
      })
      expect(wrap.parts.length).toBeGreaterThan(0)
    })
  },
)
