import { describe, expect, test } from 'vitest'
import { clearOrder, clearStep } from '../../src/bender/clearStep.ts'
import { type BenchSetup, type BenchState, benchSetup } from '../../src/bender/housing.ts'
import { type Layout, layOut, orderFrom } from '../../src/bender/layOut.ts'
import type { MotionName } from '../../src/bender/motionPlan.ts'
import { tubeAtDie } from '../../src/bender/tubeAtDie.ts'
import type { BenchSolid, Bender } from '../../src/document/types.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import { benderWith } from './benders.ts'
import { depth } from './dense.ts'
import { type P, pointsOn } from './drawn.ts'
import { seeded } from './random.ts'
import { runFromRows, shuffled, toolingFor } from './randomRun.ts'

const SEED = 5150
const SCENES = 60

/** One step of a random tube on a bender whose solids stand within the die's reach, some of them in the tube's way. */
function randomScene(next: () => number) {
  const between = (low: number, high: number) => low + (high - low) * next()
  const od = between(6, 16)
  const clr = 3 * od
  const bends = 2 + Math.floor(next() * 2)
  const rows = {
    straights: Array.from({ length: bends + 1 }, () => between(2.5 * od, 160)),
    bends: Array.from({ length: bends }, (_, k) => ({
      angle: between(20, 150),
      rotation: k === 0 ? null : between(-179, 179),
    })),
  }
  const run = runFromRows(rows, clr, { insertionA: between(0, 20), insertionB: between(0, 20), trim: 0 })
  const hand = next() < 0.5 ? 'left' : 'right'
  const h = hand === 'left' ? 1 : -1
  const solid = (name: string): BenchSolid => {
    // About the die: from the tail's stock over the wrapped bend to the clamp.
    const at = [
      between(-1.2 * clr, 1.4 * clr),
      h * between(-0.8 * clr, 1.8 * clr),
      between(-2, 2) * od,
    ] as const
    const size = [between(0.4, 1.5) * od, between(0.4, 1.5) * od, between(0.4, 1.5) * od] as const
    return next() < 0.7
      ? { shape: 'box', name, at, size, turn: [0, 0, between(-60, 60)] }
      : { shape: 'cylinder', name, at, axis: [0, 0, 1], length: size[2], radius: size[0] / 2 }
  }
  const solids = (role: string) =>
    Array.from({ length: Math.floor(next() * 3) }, (_, i) => solid(`${role} ${i}`))
  const kind = next() < 0.6 ? ('rotaryDraw' as const) : ('compression' as const)
  const bender = benderWith({
    hand,
    kind,
    arm: solids('arm'),
    housing: [...solids('housing'), solid('post')],
  })
  const plain = next() < 0.6
  const order = plain
    ? orderFrom('A', bends)
    : shuffled(next, orderFrom('A', bends)).map(o => ({
        ...o,
        lead: next() < 0.5 ? ('A' as const) : ('B' as const),
      }))
  const tooling = toolingFor(od, clr)
  const setup = benchSetup(run, bender, tooling, null, { trimAt: order[0]!.lead === 'A' ? 'B' : 'A' })
  const i = Math.floor(next() * bends)
  const made = new Set(order.slice(0, i).map(o => o.bend))
  const state: BenchState = { ...order[i]!, before: order[i - 1] ?? null, made: b => made.has(b) }
  return { setup, state, layout: layOut(run, tooling, null, { hand, kind, order }), i }
}

/**
 * The least distance from the bender of a grid of points on the drawn tube through one motion. Nothing is left out but
 * what is held: while bending, the stretch in the clamp and the stretch on the die against what carries clamp
 * and die, and on a compression bender the stock that the follower has not wrapped yet against the arm.
 */
function drawnLeast(setup: BenchSetup, layout: Layout, i: number, motion: MotionName, lift: number): number {
  const step = layout.steps[i]!
  const h = setup.hand === 'left' ? 1 : -1
  const draws = setup.kind === 'rotaryDraw'
  const { clr, od, clampGrip } = setup.tooling
  let least = Number.POSITIVE_INFINITY
  const FRAMES = 40
  for (let f = 0; f <= FRAMES; f++) {
    // Before anything is bent the stretches are one straight: a trace of a bend tells them apart.
    const { pieces, dieAngle } = tubeAtDie(layout, setup.stock, i, motion, Math.max(f / FRAMES, 1e-4), lift)
    const here = pieces.findIndex(p => p.kind === 'arc' && p.bend === step.bend)
    const turn = (((draws ? h : -h) * dieAngle) / 180) * Math.PI
    const fromArm = (p: P): P => {
      const [x, y] = [p[0], p[1] - h * clr]
      const [c, s] = [Math.cos(-turn), Math.sin(-turn)]
      return [x * c - y * s, x * s + y * c + h * clr, p[2]]
    }
    const near = (points: Iterable<P>, role: 'housing' | 'arm') => {
      for (const p of points)
        for (const solid of setup.solids[role])
          least = Math.min(least, depth(solid, role === 'arm' ? fromArm(p) : p))
    }
    pieces.forEach((piece, k) => {
      const holder = motion === 'bend' ? (draws ? 'arm' : 'housing') : null
      // The standing tube is as far from the housing while the arm goes back as when it is lifted out.
      for (const role of motion === 'armBack' ? (['arm'] as const) : (['housing', 'arm'] as const)) {
        const inClamp = role === holder && here >= 0 && k === here - 1
        if (role === holder && k === here) continue
        // What is not wrapped yet lies right behind the die: leave its whole straight to the other motions.
        if (motion === 'bend' && !draws && role === 'arm' && k === here + 1) continue
        near(pointsOn(piece, od / 2, inClamp ? clampGrip : 0), role)
      }
    })
  }
  return least
}

test(`what is held is left out while it is held, and nothing else ever: ${SCENES} scenes with solids about the die, seed ${SEED}`, () => {
  const next = seeded(SEED)
  const bad: string[] = []
  const near: Partial<Record<MotionName, number>> = {}
  const hits: Partial<Record<MotionName, number>> = {}
  for (let n = 0; n < SCENES; n++) {
    const { setup, state, layout, i } = randomScene(next)
    for (const m of clearStep(setup, state).motions) {
      const drawn = drawnLeast(setup, layout, i, m.motion, Math.max(m.from, m.to))
      if (m.atLeast === null) {
        if (drawn < Number.POSITIVE_INFINITY) bad.push(`scene ${n}: ${m.motion} is not checked`)
        continue
      }
      if (m.atLeast > drawn + 1e-6)
        bad.push(
          `scene ${n} ${setup.kind}: ${m.motion} of ${m.part?.kind} ${m.solid} says ${m.atLeast}, drawn ${drawn}`,
        )
      if (drawn - m.atLeast < 2) near[m.motion] = (near[m.motion] ?? 0) + 1
      if (drawn < 0) hits[m.motion] = (hits[m.motion] ?? 0) + 1
    }
  }
  expect(bad).toEqual([])
  // A figure that is too low would pass as well: a coarse grid finds most of it, and contacts of every motion.
  for (const motion of ['putIn', 'slide', 'turn', 'bend', 'armBack', 'takeOut'] as const) {
    expect([motion, hits[motion]! > 3]).toEqual([motion, true])
    expect([motion, near[motion]! > 8]).toEqual([motion, true])
  }
}, 120_000)

describe("a solid within the die's reach", () => {
  const run = runFromRows({ straights: [150, 150], bends: [{ angle: 90, rotation: null }] }, 36, {
    insertionA: 0,
    insertionB: 0,
    trim: 0,
  })
  const ONE: readonly OrderedBend[] = [{ bend: 0, lead: 'A' }]
  const steps = (over: Partial<Bender>) =>
    clearOrder(benchSetup(run, benderWith(over), toolingFor(12, 36), null, { trimAt: 'B' }), ONE)
  const box = (at: P, size: P): BenchSolid => ({ shape: 'box', name: 'box', at, size, turn: [0, 0, 0] })
  const of = (motion: MotionName, over: Partial<Bender>) =>
    steps(over)[0]!.motions.find(m => m.motion === motion)!

  test('on the arm, between clamp and die, is met by the bend as the arm goes back over it', () => {
    const arm = [box([12.5, 16.5, 0], [15, 20, 20])]
    // Its corner is √(20² + 29.5²) = 35.64 from the die's axis; the tube on the die begins at 30.
    expect(of('armBack', { arm }).depth!).toBeGreaterThan(3)
    expect(of('bend', { arm }).depth).toBeNull()
  })

  test('in the housing, over the bend on the die, is met when the tube is lifted out', () => {
    const housing = [box([25.5, 10.5, 20], [8, 8, 10])]
    expect(of('takeOut', { housing }).depth!).toBeGreaterThan(3)
    expect(of('takeOut', { housing }).part).toEqual({ kind: 'bend', index: 0 })
    expect(of('bend', { housing }).atLeast!).toBeGreaterThan(8.9)
  })

  test('in the housing, where the clamp comes by, is met by the stretch in the clamp', () => {
    // At 90° the clamped stretch stands on x = 36, from y = 36 on.
    const found = of('bend', { housing: [box([36, 48, 0], [6, 6, 6])] })
    expect(found.depth!).toBeGreaterThan(2.9)
    expect(found.leftOut).toMatch(/^what the arm holds while bending/)
    expect(of('takeOut', { housing: [box([36, 48, 0], [6, 6, 6])] }).leftOut).toBeNull()
  })
})
