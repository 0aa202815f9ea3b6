import { expect, test } from 'vitest'
import { runChecks } from '../../src/checks/runChecks.ts'
import { knownBender } from '../../src/document/knownBenders.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, Run, SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { knownFix } from '../../src/view/panels/fixes/knownFix.ts'
import { ownFixes } from '../../src/view/panels/fixes/ownFixes.ts'

const port = (id: string, position: Vec3, axis: Vec3, insertionDepth: number): Fitting => ({
  id,
  catalogueId: null,
  name: `Port ${id}`,
  position,
  axis,
  tubeOd: 12,
  insertionDepth,
  straightNeeded: 24,
})
/** 12 mm tube at CLR 36 from port P through the points to port Q; invented. */
function skid(points: readonly Vec3[], inAt: Vec3, out: Vec3, depth = 22): SkidDocument {
  const [first, ...rest] = points
  const last = rest.at(-1)!
  const bender = knownBender('bench-left')!.bender
  const run: Run = {
    id: 'r1',
    tag: 'T-1',
    service: '',
    tube: { catalogueId: null, od: 12, wall: 1.5, material: '316' },
    clr: 36,
    bender: bender.id,
    endA: { kind: 'port', fitting: 'P' },
    vertices: rest.slice(0, -1).map((at, i) => ({ id: `v${i + 1}`, at })),
    endB: { kind: 'port', fitting: 'Q' },
    trimAllowance: 0,
    insulation: 0,
    quantity: 1,
  }
  return {
    ...emptyDocument('Words'),
    benders: [bender],
    fittings: [port('P', first!, inAt, depth), port('Q', last, out, depth)],
    runs: [run],
  }
}
const found = (document: SkidDocument): readonly Finding[] =>
  runChecks(document, solveDocument(document)).findings
const X: Vec3 = [1, 0, 0]

const OVERRUN: readonly (readonly [string, SkidDocument])[] = [
  // The leg to Q is 9 mm, its bend's tangent 36 mm.
  [
    'a bend inside the port',
    skid(
      [
        [0, 0, 0],
        [200, 0, 0],
        [200, 9, 0],
      ],
      X,
      [0, -1, 0],
    ),
  ],
  [
    'a bend before the stock begins',
    skid(
      [
        [0, 0, 0],
        [10, 0, 0],
        [10, 200, 0],
      ],
      X,
      [0, -1, 0],
      4,
    ),
  ],
  [
    'two bends that overlap',
    skid(
      [
        [0, 0, 0],
        [200, 0, 0],
        [200, 30, 0],
        [400, 30, 0],
      ],
      X,
      [-1, 0, 0],
    ),
  ],
  [
    'a straight tube too short for both nuts',
    skid(
      [
        [0, 0, 0],
        [15, 0, 0],
      ],
      X,
      [-1, 0, 0],
    ),
  ],
]
test.each(OVERRUN)('no distance in a sentence is negative: %s', (_, document) => {
  const findings = found(document).filter(f => f.unit === 'mm')
  expect(findings.length).toBeGreaterThan(0)
  for (const { message } of findings) expect(message).not.toMatch(/[-−]\d/)
})

test('a bend that reaches into its port says how far inside, not how far outside', () => {
  const [[, document]] = OVERRUN as [(typeof OVERRUN)[number]]
  const said = found(document).find(f => f.rule === 'fittingStraight')!.message
  expect(said).toContain('the bend reaches 27 mm inside its face')
  expect(said).toContain('need 24 mm')
  expect(said).toContain('51 mm missing')
})

test('a straight with several errors offers one fix, and that one mends them all', () => {
  let shared = 0
  for (const [, held] of OVERRUN) {
    const [run] = held.runs
    const document = {
      ...held,
      runs: [{ ...run!, endA: { kind: 'free' as const, at: held.fittings[0]!.position } }],
    }
    const findings = found(document)
    const own = ownFixes(document, findings)
    const labels = findings
      .filter(f => own.has(f.id) && f.severity === 'error')
      .flatMap(f => knownFix(document, f, 'mm')?.label ?? [])
    expect(new Set(labels).size).toBe(labels.length)
    for (const finding of findings.filter(f => f.severity === 'error' && f.where.kind === 'straight')) {
      const fix = knownFix(document, finding, 'mm')
      if (!fix?.ok) continue
      const straight = (f: Finding) => f.where.kind === 'straight' && f.where.index === finding.where.index
      const together = findings.filter(f => f.severity === 'error' && straight(f))
      if (together.length > 1) shared++
      expect(found(fix.document).filter(f => f.severity === 'error' && straight(f))).toEqual([])
      expect(together.filter(f => own.has(f.id))).toHaveLength(1)
    }
  }
  expect(shared).toBeGreaterThan(1)
})
