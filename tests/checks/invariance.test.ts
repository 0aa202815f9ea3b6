import { expect, test } from 'vitest'
import { runChecks } from '../../src/checks/runChecks.ts'
import type { Fitting, Run, SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { add, addScaled, turnDirection, type Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { documentOf, port, runOf } from '../document/sampleDocument.ts'
import { type Random, seeded } from '../random.ts'

const SEED = 4711
const ROUTES = 400

const check = (document: SkidDocument) => runChecks(document, solveDocument(document)).findings

/** A route of 1 to 5 bends between two ports, its straights and first legs often too short or askew. */
function randomSkid(random: Random): { run: Run; fittings: Fitting[] } {
  const points: Vec3[] = [[random.between(-500, 500), random.between(-500, 500), random.between(-500, 500)]]
  const headings: Vec3[] = []
  for (let n = random.whole(2, 6); n > 0; n--) {
    const heading = random.direction()
    headings.push(heading)
    points.push(addScaled(points[points.length - 1]!, heading, random.between(60, 260)))
  }
  const askew = (axis: Vec3): Vec3 => (random.next() < 0.5 ? axis : add(axis, [0.02, 0.01, 0.005]))
  const last = headings[headings.length - 1]!
  return {
    run: runOf('r', points.slice(1, -1), {
      endA: { kind: 'port', fitting: 'a' },
      endB: { kind: 'port', fitting: 'b' },
      trimAllowance: 0,
    }),
    fittings: [
      port('a', points[0]!, askew(headings[0]!)),
      port('b', points[points.length - 1]!, askew([-last[0], -last[1], -last[2]])),
    ],
  }
}

/** Rule, parts and figures to 1e-6, whatever the order. */
const gist = (findings: readonly Finding[]) =>
  findings.map(f => [f.id, f.severity, f.measured?.toFixed(6), f.limit?.toFixed(6)].join(' ')).sort()

test(`turning and moving the whole skid changes no finding, seed ${SEED}`, () => {
  const random = seeded(SEED)
  const seen = new Set<string>()
  for (let i = 0; i < ROUTES; i++) {
    const { run, fittings } = randomSkid(random)
    const axis = random.direction()
    const by = random.between(-3, 3)
    const shift: Vec3 = [random.between(-900, 900), random.between(-900, 900), random.between(-900, 900)]
    const turned = (v: Vec3) => turnDirection(v, axis, by)
    const moved = (p: Vec3) => add(turned(p), shift)
    const before = check(documentOf([run], fittings))
    const after = check(
      documentOf(
        [{ ...run, vertices: run.vertices.map(v => ({ ...v, at: moved(v.at) })) }],
        fittings.map(f => ({ ...f, position: moved(f.position), axis: turned(f.axis) })),
      ),
    )
    expect(gist(after), `route ${i}`).toEqual(gist(before))
    for (const f of before) seen.add(f.rule)
  }
  // The routes must have met the rules, or nothing was compared.
  for (const rule of ['legOverrun', 'straightClamp', 'straightFollower', 'fittingStraight', 'portAxis'])
    expect(seen).toContain(rule)
})

test(`reading a run from its other end finds the same on the same parts, seed ${SEED}`, () => {
  const random = seeded(SEED)
  // Which end leads the bender is the run's own direction, so held ends are left out: they may change.
  const part = (f: Finding) => `${f.rule} ${f.id.split(':').slice(2).sort().join()} ${f.measured?.toFixed(6)}`
  const parts = (findings: readonly Finding[]) =>
    findings
      .filter(f => f.rule !== 'frontHeld' && f.rule !== 'tailHeld')
      .map(part)
      .map(s => s.replace(/\b[AB]\b/g, 'end'))
      .sort()
  for (let i = 0; i < ROUTES; i++) {
    const { run, fittings } = randomSkid(random)
    const back = { ...run, endA: run.endB, endB: run.endA, vertices: [...run.vertices].reverse() }
    expect(parts(check(documentOf([back], fittings))), `route ${i}`).toEqual(
      parts(check(documentOf([run], fittings))),
    )
  }
})
