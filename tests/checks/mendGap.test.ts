import { describe, expect, test } from 'vitest'
import { mendGap } from '../../src/checks/mend/mendGap.ts'
import { answerMend } from '../../src/checks/mend/mendJob.ts'
import type { Mend, Mends } from '../../src/checks/mend/mendTypes.ts'
import { shifted } from '../../src/checks/mend/moves.ts'
import { roundedUp } from '../../src/checks/mend/roundFigure.ts'
import { runChecks } from '../../src/checks/runChecks.ts'
import { editRun } from '../../src/document/edits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, SkidDocument, Solid } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { seeded } from '../random.ts'
import { randomDocument } from '../skid/randomScene.ts'

const findingsOf = (d: SkidDocument, meshes: readonly MeshBody[] = []) =>
  clearanceFindings(d, solveDocument(d), meshes).filter(f => f.severity !== 'notChecked')

function mendsOf(d: SkidDocument, finding: Finding, unit: 'mm' | 'in' | 'fraction' = 'mm'): Mends {
  const search = mendGap(d, finding, [], unit)
  for (;;) {
    const step = search.next()
    if (step.done) return step.value
    expect(step.value >= 0 && step.value <= 1).toBe(true)
  }
}
const applied = (d: SkidDocument, mend: Mend): SkidDocument =>
  editRun(d, mend.runId, run => shifted(d, { ...mend, run }, mend.by))

const faults = (d: SkidDocument) =>
  new Map(
    runChecks(d, solveDocument(d))
      .findings.filter(f => f.severity === 'error' || f.severity === 'warning')
      .map(f => [`${f.severity} ${f.id}`, f]),
  )
/** Gaps below what is asked, by the two ids. */
const shortGaps = (d: SkidDocument) =>
  new Map(
    clearances(d, solveDocument(d), { within: 40 })
      .filter(p => p.clearance < p.required)
      .map(p => [`${p.aId} ${p.bId}`, p]),
  )

function holdsUp(d: SkidDocument, finding: Finding, mend: Mend): void {
  const after = applied(d, mend)
  const ids = [finding.where.run, finding.where.other]
  const pair = clearances(after, solveDocument(after), { within: 1e4 }).find(
    p => ids.includes(p.aId) && ids.includes(p.bId) && (ids[0] === ids[1]) === (p.aId === p.bId),
  )!
  expect(pair.clearance, mend.what).toBeGreaterThanOrEqual(pair.required - 1e-6)
  expect(Math.abs(pair.clearance - mend.clearance)).toBeLessThan(0.01)
  expect(pair.required).toBe(mend.required)
  const cut = solveDocument(after).find(s => s.runId === mend.runId)!.cutLength!
  expect(cut).toBeCloseTo(mend.cutLengthAfter, 9)

  const [was, is] = [faults(d), faults(after)]
  for (const [id, fault] of is) {
    expect(was.has(id), `new: ${fault.message}`).toBe(true)
    const missed = (f: Finding) => Math.abs((f.limit ?? 0) - (f.measured ?? 0))
    expect(missed(fault)).toBeLessThanOrEqual(missed(was.get(id)!) + 1e-5)
  }
  const [before, now] = [shortGaps(d), shortGaps(after)]
  for (const [id, p] of now) {
    const old = before.get(id)
    expect(old, `newly too near: ${id}`).toBeDefined()
    expect(p.clearance, id).toBeGreaterThanOrEqual(old!.clearance - 0.02)
  }
  // Of two documents only the moved run differs, and in ports it still ends where it did.
  for (const run of after.runs) {
    const old = d.runs.find(r => r.id === run.id)!
    if (run.id !== mend.runId) expect(run).toBe(old)
    if (old.endA.kind === 'port') expect(run.endA).toBe(old.endA)
    if (old.endB.kind === 'port') expect(run.endB).toBe(old.endB)
  }
}

/** Puts every end of every other run into a port that looks along its leg, so that those ends are held. */
function withPorts(d: SkidDocument): SkidDocument {
  const fittings: Fitting[] = []
  const port = (id: string, at: Vec3, towards: Vec3): Run['endA'] => {
    const axis: Vec3 = [towards[0] - at[0], towards[1] - at[1], towards[2] - at[2]]
    fittings.push({
      id,
      name: id,
      catalogueId: null,
      position: at,
      axis,
      insertionDepth: 10,
      straightNeeded: 15,
      tubeOd: null,
    })
    return { kind: 'port', fitting: id }
  }
  const runs = d.runs.map((run, k): Run => {
    const [a, b] = [run.endA, run.endB]
    if (k % 2 === 0 || a.kind !== 'free' || b.kind !== 'free') return run
    const first = run.vertices[0]?.at ?? b.at
    const last = run.vertices.at(-1)?.at ?? a.at
    return { ...run, endA: port(`${run.id}A`, a.at, first), endB: port(`${run.id}B`, b.at, last) }
  })
  return { ...d, fittings, runs }
}

describe('mends of random scenes', () => {
  for (const seed of [11, 12, 13, 14, 15, 16])
    test(`applied, each gives the gap asked for, breaks no check and worsens no gap below its limit; seed ${seed}`, () => {
      const random = seeded(seed)
      let offered = 0
      for (let scene = 0; scene < 2; scene++) {
        const d = withPorts(randomDocument(random, 6, 5, 500))
        for (const finding of findingsOf(d).slice(0, 3)) {
          const { ways, reason } = mendsOf(d, finding, scene === 0 ? 'mm' : 'fraction')
          expect(ways.length === 0).toBe(reason !== '')
          expect(ways.length).toBeLessThanOrEqual(3)
          for (const mend of ways) {
            offered++
            holdsUp(d, finding, mend)
          }
        }
      }
      expect(offered).toBeGreaterThan(0)
    })
})

const port = (id: string, position: Vec3, axis: Vec3): Fitting => ({
  id,
  name: `Port ${id}`,
  catalogueId: null,
  position,
  axis,
  insertionDepth: 10,
  straightNeeded: 20,
  tubeOd: 12,
})
const box = (id: string, at: Vec3, size: Vec3): Solid => ({
  id,
  name: `Box ${id}`,
  kind: 'equipment',
  fitting: null,
  shape: 'box',
  at,
  size,
  turn: [0, 0, 0],
})
const tube = (id: string, vertices: readonly Vec3[], a: string, b: string): Run => ({
  id,
  tag: id.toUpperCase(),
  service: 'invented',
  tube: { catalogueId: null, od: 12, wall: 1, material: 'invented' },
  clr: 36,
  bender: null,
  endA: { kind: 'port', fitting: a },
  vertices: vertices.map((at, k) => ({ id: `v${k}`, at })),
  endB: { kind: 'port', fitting: b },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
})
/** A Z between two ports that look at each other along x: its riser can slide along x, and nothing else can move. */
const riser = (...solids: readonly Solid[]): SkidDocument => ({
  ...emptyDocument('Riser, invented'),
  fittings: [port('a', [0, 0, 0], [1, 0, 0]), port('b', [400, 0, 300], [-1, 0, 0])],
  runs: [
    tube(
      'r1',
      [
        [200, 0, 0],
        [200, 0, 300],
      ],
      'a',
      'b',
    ),
  ],
  solids,
})

describe('which way, and how far', () => {
  // The riser's outside is at x 206 and 194; 25 mm are required from equipment. The box's face stands at 230 or 170.
  for (const [side, at, way] of [
    ['+x', 250, 'along −x'],
    ['−x', 150, 'along +x'],
  ] as const)
    test(`a box on the ${side} side pushes the riser ${way} by the least round figure`, () => {
      const d = riser(box('k', [at, 0, 150], [40, 40, 40]))
      const [finding] = findingsOf(d)
      expect(finding!.measured).toBeCloseTo(24, 6)
      const [best] = mendsOf(d, finding!).ways
      expect(best).toMatchObject({
        tag: 'R1',
        what: 'points 2 and 3',
        way,
        by: 1,
        bendsChanged: 0,
        endsMoved: 0,
      })
      expect(best!.clearance).toBeCloseTo(25, 6)
      expect(best!.cutLengthAfter).toBeCloseTo(best!.cutLengthBefore, 9)
      holdsUp(d, finding!, best!)
    })

  test('a gap that falls between two round figures is rounded up, never short, in each unit', () => {
    const d = riser(box('k', [250.3, 0, 150], [40, 40, 40]))
    const [finding] = findingsOf(d)
    const by = (unit: 'mm' | 'in' | 'fraction') => mendsOf(d, finding!, unit).ways[0]!
    // 0.7 mm are missing.
    expect(by('mm').by).toBe(1)
    expect(by('fraction').by).toBe(25.4 / 32)
    expect(by('in').by).toBeCloseTo(3 * 0.254, 12)
    for (const unit of ['mm', 'in', 'fraction'] as const) {
      expect(by(unit).by).toBeGreaterThanOrEqual(0.7)
      expect(by(unit).clearance).toBeGreaterThanOrEqual(25)
    }
  })

  test('round figures are never below what was asked, and less than a step above it', () => {
    const random = seeded(5)
    for (let k = 0; k < 2000; k++) {
      const mm = random.between(0, 200)
      for (const unit of ['mm', 'in', 'fraction'] as const) {
        const up = roundedUp(mm, unit)
        expect(up).toBeGreaterThanOrEqual(mm - 1e-8)
        expect(up - mm).toBeLessThan(1.28)
      }
    }
    expect([9.9, 10, 10.2].map(mm => roundedUp(mm, 'mm'))).toEqual([10, 10, 11])
    expect(roundedUp(25.4 / 32, 'fraction')).toBe(25.4 / 32)
  })

  test('the way stops short of a second neighbour, and goes round the first on the other side when it must', () => {
    // Sliding −x by 1 mm is free; with a second box 25.5 mm off on that side it is not.
    const d = riser(box('k', [250, 0, 150], [40, 40, 40]), box('m', [148.5, 0, 150], [40, 40, 40]))
    const [finding] = findingsOf(d)
    const { ways } = mendsOf(d, finding!)
    for (const mend of ways) {
      expect(mend.by).toBeGreaterThan(60)
      holdsUp(d, finding!, mend)
    }
  })

  test('two ways of one gap: either run may give way', () => {
    const d = riser()
    const other: Run = {
      ...tube(
        'r2',
        [
          [215, 0, 30],
          [215, 0, 270],
        ],
        'c',
        'd',
      ),
    }
    const both: SkidDocument = {
      ...d,
      fittings: [...d.fittings, port('c', [400, 60, 30], [-1, 0, 0]), port('d', [500, 0, 270], [-1, 0, 0])],
      runs: [...d.runs, { ...other, endA: { kind: 'free', at: [350, 0, 30] } }],
    }
    const finding = findingsOf(both).find(f => f.where.other === 'r2' && f.where.run === 'r1')!
    const { ways } = mendsOf(both, finding)
    expect(new Set(ways.map(w => w.tag))).toEqual(new Set(['R1', 'R2']))
    for (const mend of ways) holdsUp(both, finding, mend)
  })
})

describe('when there is no mend', () => {
  test('a straight tube between two ports has no point to move', () => {
    const d: SkidDocument = {
      ...riser(box('k', [200, 0, 20], [40, 40, 10])),
      fittings: [port('a', [0, 0, 0], [1, 0, 0]), port('b', [400, 0, 0], [-1, 0, 0])],
      runs: [tube('r1', [], 'a', 'b')],
    }
    const [finding] = findingsOf(d)
    expect(mendsOf(d, finding!)).toEqual({
      ways: [],
      complete: true,
      reason: 'No point beside it can move: the ends are in ports, and there is no other.',
    })
  })

  test('what the nearest miss breaks is said with its figures', () => {
    // Walls on both sides, over the whole reach of the slide.
    const d = riser(box('k', [320, 0, 150], [190, 400, 40]), box('m', [100, 0, 150], [170, 400, 40]))
    const finding = findingsOf(d).find(f => f.where.other === 'k')!
    const { ways, reason } = mendsOf(d, finding)
    expect(ways).toEqual([])
    expect(reason).toMatch(
      /^Every move up to 200 mm that would fix it breaks something else\. The shortest, .+ of R1 by /,
    )
  })

  test('a finding that is no gap, or is none any more, is told so', () => {
    const d = riser(box('k', [245, 0, 150], [40, 40, 40]))
    const [finding] = findingsOf(d)
    expect(mendsOf(d, { ...finding!, rule: 'portAxis' }).reason).toContain('not a gap between two parts')
    expect(mendsOf(riser(box('k', [300, 0, 150], [40, 40, 40])), finding!).reason).toContain(
      'as wide as required',
    )
  })
})

test('the job tells progress between 0 and 1, then the same ways as the search, and throws what the search throws', () => {
  const d = randomDocument(seeded(3), 8, 6, 500)
  const [finding] = findingsOf(d)
  const told: number[] = []
  const ask = { document: structuredClone(d), finding: finding!, meshes: [], unit: 'mm' as const }
  expect(answerMend(ask, done => told.push(done))).toEqual(mendsOf(d, finding!))
  expect(told.every(done => done >= 0 && done <= 1)).toBe(true)
  expect(() => answerMend({ ...ask, document: null as never }, () => {})).toThrow()
})
