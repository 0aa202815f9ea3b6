import { describe, expect, test } from 'vitest'
import { benchFindings } from '../../src/bender/benchFindings.ts'
import { clearOrder, clearStep, motionPlans, type StepClearance } from '../../src/bender/clearStep.ts'
import type { ConvexSolid } from '../../src/bender/convex.ts'
import { type BenchSetup, type BenchState, benchSetup } from '../../src/bender/housing.ts'
import { layOut } from '../../src/bender/layOut.ts'
import { SWEEP_TOLERANCE_MM, sweep } from '../../src/bender/sweep.ts'
import { tubeAtDie } from '../../src/bender/tubeAtDie.ts'
import type { BenchSolid, Bender } from '../../src/document/types.ts'
import type { OrderedBend } from '../../src/solve/bendOrder.ts'
import type { SolvedRun } from '../../src/solve/types.ts'
import { benderWith } from './benders.ts'
import { denseLeast, depth } from './dense.ts'
import { type P, pointsOn } from './drawn.ts'
import { seeded } from './random.ts'
import { runFromRows, shuffled, toolingFor } from './randomRun.ts'

const SEED = 8123
const SPRINGBACK = { material: 'x', offset: 1.5, perDegree: 0.03, range: null }
const KINDS = ['rotaryDraw', 'compression'] as const
const HANDS = ['left', 'right'] as const

const armBackOf = (step: StepClearance) => step.motions.find(m => m.motion === 'armBack')!
const touched = (step: StepClearance) => step.motions.filter(m => m.depth !== null).map(m => m.motion)

/** One step of a random tube on a bender with nothing but an arm of one or two solids near the die. */
function randomScene(next: () => number, mirrored = false) {
  const between = (low: number, high: number) => low + (high - low) * next()
  const od = between(6, 16)
  const clr = 3 * od
  const bends = 1 + Math.floor(next() * 4)
  const rows = {
    straights: Array.from({ length: bends + 1 }, () => between(2.5 * od, 220)),
    bends: Array.from({ length: bends }, (_, k) => {
      const rotation = k === 0 ? null : between(-180, 180)
      return {
        angle: between(10, 150),
        rotation: rotation === null ? null : mirrored ? 0 - rotation : rotation,
      }
    }),
  }
  const run = runFromRows(rows, clr, { insertionA: between(0, 20), insertionB: between(0, 20), trim: 0 })
  const flip = mirrored ? -1 : 1
  const arm = Array.from({ length: 1 + Math.floor(next() * 2) }, (_, i): BenchSolid => {
    const at = [between(-90, 90), flip * between(-90, 90), between(-70, 40)] as const
    const size = [between(15, 80), between(15, 80), between(15, 50)] as const
    const turn = [flip * between(-30, 30), between(-30, 30), flip * between(-60, 60)] as const
    return next() < 0.6
      ? { shape: 'box', name: `box ${i}`, at, size, turn }
      : {
          shape: 'cylinder',
          name: `cylinder ${i}`,
          at,
          axis: [0, 0, 1],
          length: size[2],
          radius: size[0] / 2,
        }
  })
  const hand = next() < 0.5 ? 'left' : 'right'
  const kind = KINDS[next() < 0.5 ? 0 : 1]
  const order = shuffled(
    next,
    Array.from({ length: bends }, (_, bend) => bend),
  ).map((bend): OrderedBend => ({ bend, lead: next() < 0.5 ? 'A' : 'B' }))
  const bender = benderWith({ hand: mirrored ? (hand === 'left' ? 'right' : 'left') : hand, kind, arm })
  const tooling = toolingFor(od, clr)
  const trimAt = order[0]!.lead === 'A' ? 'B' : 'A'
  const setup = benchSetup(run, bender, tooling, SPRINGBACK, { trimAt })
  const i = Math.floor(next() * bends)
  const made = new Set(order.slice(0, i).map(o => o.bend))
  const state: BenchState = { ...order[i]!, before: order[i - 1] ?? null, made: b => made.has(b) }
  const layout = layOut(run, tooling, SPRINGBACK, { hand: bender.hand, kind, order })
  return { setup, state, layout, i, order, bender, tooling, run }
}

const GRIDS = [
  { times: 40, lengths: 16, sections: 12, throws: 25 },
  { times: 200, lengths: 30, sections: 24, throws: 200 },
  { times: 1000, lengths: 40, sections: 36, throws: 1000 },
  { times: 1500, lengths: 100, sections: 100, throws: 3000 },
]
const WITHIN_MM = 0.05
const SCENES = 40

test(`the swing back's certified figure never exceeds dense sampling and lies within ${WITHIN_MM} mm of it: ${SCENES} scenes, seed ${SEED}`, () => {
  const next = seeded(SEED)
  const bad: string[] = []
  let contacts = 0
  for (let n = 0; n < SCENES; n++) {
    const { setup, state } = randomScene(next)
    const plan = motionPlans(setup, state).find(p => p.motion === 'armBack')!
    const { jobs } = plan
    const result = sweep(jobs, setup.od / 2)!
    if (result.found < 0) contacts++
    // Everything by the coarse grid; what is named as nearest as finely as it takes.
    let dense = denseLeast(jobs, setup.od / 2, GRIDS[0]!)
    const named = jobs.map(job => ({
      ...job,
      parts: job.parts.filter(p => p.of.kind === result.part.kind && p.of.index === result.part.index),
      solids: job.solids.filter(s => s.name === result.solid),
    }))
    for (const grid of GRIDS.slice(1)) {
      if (dense - result.atLeast <= WITHIN_MM) break
      dense = Math.min(dense, denseLeast(named, setup.od / 2, grid))
    }
    if (!(result.atLeast <= dense + 1e-9 && dense - result.atLeast <= WITHIN_MM))
      bad.push(`scene ${n}: certified ${result.atLeast}, dense ${dense}`)
  }
  expect(bad).toEqual([])
  expect(contacts).toBeGreaterThan(SCENES / 20)
  expect(contacts).toBeLessThan((SCENES * 19) / 20)
}, 120_000)

/** The least distance of a grid of points on the tube's outside from the arm, while it goes back, by the drawn tube. */
function drawnLeast(scene: ReturnType<typeof randomScene>): number {
  const { setup, layout, i, bender, tooling } = scene
  const step = layout.steps[i]!
  const h = bender.hand === 'left' ? 1 : -1
  const draws = bender.kind === 'rotaryDraw'
  const r = tooling.od / 2
  let least = Number.POSITIVE_INFINITY
  const FRAMES = 90
  for (let f = 0; f <= FRAMES; f++) {
    const { pieces, dieAngle } = tubeAtDie(layout, setup.stock, i, 'armBack', f / FRAMES)
    const here = pieces.findIndex(p => p.kind === 'arc' && p.bend === step.bend)
    const turn = ((draws ? h : -h) * dieAngle * Math.PI) / 180
    /** Into the frame of the arm: back about the die's axis by what the arm is turned. */
    const seen = (p: P): P => {
      const [x, y] = [p[0], p[1] - h * tooling.clr]
      const [c, s] = [Math.cos(-turn), Math.sin(-turn)]
      return [x * c - y * s, x * s + y * c + h * tooling.clr, p[2]]
    }
    pieces.forEach((piece, k) => {
      // While it springs back the bend and the side that the arm drove are with it, as the bend's own sweep has them.
      const driven = k === here || (draws ? k < here : k > here)
      if (driven && dieAngle > step.angle) return
      for (const p of pointsOn(piece, r)) {
        for (const solid of setup.solids.arm) least = Math.min(least, depth(solid, seen(p)))
      }
    })
  }
  return least
}

test(`the tube that is drawn while the arm swings back never comes nearer than certified (seed ${SEED + 1})`, () => {
  const next = seeded(SEED + 1)
  const over: number[] = []
  for (let n = 0; n < 60; n++) {
    const scene = randomScene(next)
    const { atLeast } = armBackOf(clearStep(scene.setup, scene.state))
    over.push(drawnLeast(scene) - atLeast!)
  }
  expect(Math.min(...over)).toBeGreaterThan(-1e-6)
  // A figure that is too low would pass as well: a coarse grid finds most of it.
  expect(over.filter(o => o < 2).length).toBeGreaterThan(50)
}, 60_000)

test(`a mirrored bender makes the mirrored tube with the same clearances (seed ${SEED + 2})`, () => {
  const [one, other] = [seeded(SEED + 2), seeded(SEED + 2)]
  let near = 0
  for (let n = 0; n < 60; n++) {
    const a = randomScene(one)
    const b = randomScene(other, true)
    expect(b.bender.hand).not.toBe(a.bender.hand)
    const [left, right] = [clearOrder(a.setup, a.order), clearOrder(b.setup, b.order)]
    left.forEach((step, i) => {
      step.motions.forEach((m, k) => {
        const mirror = right[i]!.motions[k]!
        expect(mirror.motion).toBe(m.motion)
        expect(Math.abs(mirror.atLeast! - m.atLeast!)).toBeLessThan(SWEEP_TOLERANCE_MM + 2e-3)
        if (m.motion === 'armBack' && m.atLeast! < 20) near++
      })
    })
  }
  expect(near).toBeGreaterThan(20)
}, 60_000)

/**
 * A tube with one bend; a post stands on the arm ten degrees ahead of the free end that the arm drives. While
 * bending the post stays ahead; going back it passes the end's outer edge. By hand: the edge is √(L² + (R + r)²)
 * from the die's axis, the post's middle D, so the gap is D − √(L² + (R + r)²) − post radius.
 */
const CLR = 36
const OD = 12
const LEG = 150
const POST = 10
const AHEAD_DEG = 10
const ANGLE = 60
const EDGE = Math.hypot(LEG, CLR + OD / 2)

function postScene(
  hand: 'left' | 'right',
  kind: 'rotaryDraw' | 'compression',
  gap: number,
  over: { readonly ahead?: number; readonly tubeOutFirst?: boolean } = {},
): { setup: BenchSetup; run: SolvedRun; bender: Bender } {
  const h = hand === 'left' ? 1 : -1
  const u = kind === 'rotaryDraw' ? 1 : -1
  const d = EDGE + POST + gap
  const at = Math.atan2(LEG, CLR + OD / 2) + ((over.ahead ?? AHEAD_DEG) * Math.PI) / 180
  const post: BenchSolid = {
    shape: 'cylinder',
    name: 'post',
    at: [u * d * Math.sin(at), h * (CLR - d * Math.cos(at)), 0],
    axis: [0, 0, 1],
    length: 80,
    radius: POST,
  }
  const run = runFromRows({ straights: [LEG, LEG], bends: [{ angle: ANGLE, rotation: null }] }, CLR, {
    insertionA: 0,
    insertionB: 0,
    trim: 0,
  })
  const bender = benderWith({
    hand,
    kind,
    arm: [post],
    ...(over.tubeOutFirst === undefined ? {} : { tubeOutFirst: over.tubeOutFirst }),
  })
  const setup = benchSetup(run, bender, toolingFor(OD, CLR), SPRINGBACK, { trimAt: 'B' })
  return { setup, run, bender }
}

const ONE: readonly OrderedBend[] = [{ bend: 0, lead: 'A' }]

describe.each(KINDS)('a post on the arm of a %s bender', kind => {
  describe.each(HANDS)('%s hand', hand => {
    test('is met in the swing back alone, as deep as by hand, where the post passes the end', () => {
      const [step] = clearOrder(postScene(hand, kind, -2).setup, ONE)
      expect(touched(step!)).toEqual(['armBack'])
      const back = armBackOf(step!)
      expect(back.depth!).toBeGreaterThan(2 - SWEEP_TOLERANCE_MM - 1e-3)
      expect(back.depth!).toBeLessThan(2 + 1e-3)
      expect(back.atLeast!).toBeLessThanOrEqual(-2 + 1e-3)
      expect(back.solid).toBe('post')
      expect(back.part).toEqual({ kind: 'straight', index: kind === 'rotaryDraw' ? 0 : 1 })
      // The arm goes back from the dial; the tube stands at the wanted angle, so that is what the post passes.
      expect(back.from).toBeCloseTo(ANGLE + 1.5 + 0.03 * ANGLE, 9)
      expect(back.to).toBe(0)
      expect(Math.abs(back.at! - (ANGLE - AHEAD_DEG))).toBeLessThan(3)
    })

    test('is told in words, with what taking the tube out first would do', () => {
      const { setup, run } = postScene(hand, kind, -2)
      const [finding, ...others] = benchFindings(run, clearOrder(setup, ONE))
      expect(others).toEqual([])
      expect(finding).toMatchObject({ rule: 'housingClash', severity: 'error', limit: 0 })
      expect(finding!.id).toMatch(/:armBack:post$/)
      expect(finding!.message).toMatch(
        /^while the arm returns after bend 1, with the arm at (4[89]|5[0-2])\.\d°, straight [12] runs 2\.0 mm into the post; removed before the arm returns, if this bender opens far enough, the tube clears the bender by 9\.0 mm$/,
      )
    })

    test('clears by what is reckoned by hand when it stands further out', () => {
      const [step] = clearOrder(postScene(hand, kind, 3).setup, ONE)
      expect(touched(step!)).toEqual([])
      expect(armBackOf(step!).atLeast!).toBeLessThanOrEqual(3)
      expect(armBackOf(step!).atLeast!).toBeGreaterThan(3 - SWEEP_TOLERANCE_MM - 1e-3)
    })

    test('is not met when it stands behind the end, away from which the arm goes', () => {
      const [step] = clearOrder(postScene(hand, kind, -2, { ahead: -10 }).setup, ONE)
      // Behind it is beside the leg it swings with: clear of it then, and ever further off going back.
      const [bend, back] = [step!.motions.find(m => m.motion === 'bend')!, armBackOf(step!)]
      expect(back.depth).toBeNull()
      expect(back.atLeast!).toBeGreaterThan(bend.atLeast! - SWEEP_TOLERANCE_MM)
      expect(back.at!).toBeGreaterThan(ANGLE - 1)
    })

    test('is cleared by taking the tube out first, which then has no swing back', () => {
      const [step] = clearOrder(postScene(hand, kind, -2).setup, ONE)
      const [first] = clearOrder(postScene(hand, kind, -2, { tubeOutFirst: true }).setup, ONE)
      expect(first!.motions.map(m => m.motion)).toEqual(['slide', 'bend', 'takeOut'])
      expect(touched(first!)).toEqual([])
      const out = first!.motions.find(m => m.motion === 'takeOut')!
      expect(step!.outInstead).toEqual(out)
      expect(first!.outInstead).toBeNull()
      // The arm stands where the tube sprang back to, the post ten degrees ahead of the end: by hand, from the end's inner edge.
      const at = Math.atan2(LEG, CLR + OD / 2) + (AHEAD_DEG * Math.PI) / 180
      const d = EDGE + POST - 2
      const gap = Math.hypot(d * Math.sin(at) - LEG, CLR - d * Math.cos(at) - OD / 2) - POST
      expect(out.atLeast!).toBeLessThanOrEqual(gap)
      expect(out.atLeast!).toBeGreaterThan(gap - SWEEP_TOLERANCE_MM - 1e-3)
    })
  })
})

test('a bender without solids on its arm has a swing back that is not checked, never clear', () => {
  const { setup } = postScene('left', 'rotaryDraw', 0)
  const box: ConvexSolid = {
    shape: 'box',
    name: 'base',
    centre: [0, 0, -200],
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    half: [50, 50, 10],
  }
  const [step] = clearOrder({ ...setup, solids: { housing: [box], arm: [] } }, ONE)
  expect(armBackOf(step!)).toMatchObject({ atLeast: null, depth: null, at: null, solid: null })
  expect(step!.worst!.motion).not.toBe('armBack')
})

test('where the tube would touch while it is lifted out past the standing arm, that is said instead', () => {
  const { setup, run } = postScene('left', 'rotaryDraw', -2)
  const post = setup.solids.arm[0]!
  // A hook over the post that reaches over the end's straight, above the tube.
  const hook: ConvexSolid = {
    shape: 'box',
    name: 'hook',
    centre: [post.centre[0] - 30, 0, 40],
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    half: [20, 20, 5],
  }
  const [step] = clearOrder({ ...setup, solids: { housing: [], arm: [post, hook] } }, ONE)
  expect(touched(step!)).toEqual(['armBack'])
  expect(step!.outInstead).toMatchObject({ motion: 'takeOut', solid: 'hook' })
  expect(step!.outInstead!.depth).not.toBeNull()
  expect(benchFindings(run, [step!])[0]!.message).toMatch(
    /; removed before the arm returns, the tube would touch the hook$/,
  )
})
