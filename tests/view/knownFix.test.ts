import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { runChecks } from '../../src/checks/runChecks.ts'
import { readDocument } from '../../src/document/readDocument.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Finding } from '../../src/findings/finding.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { knownFix } from '../../src/view/panels/fixes/knownFix.ts'

function sample(name: string): SkidDocument {
  const read = readDocument(
    readFileSync(new URL(`../../sample-routes/${name}.json`, import.meta.url), 'utf8'),
  )
  if (!read.ok) throw new Error(`sample ${name} cannot be read`)
  return read.document
}
const check = (document: SkidDocument): Finding[] => runChecks(document, solveDocument(document)).findings
const bad = (findings: readonly Finding[]) =>
  findings.filter(f => f.severity === 'error' || f.severity === 'warning').map(f => f.id)

test('every offered fix removes its finding, brings no new error or warning, and leaves the ports alone', () => {
  let offered = 0
  for (const name of ['first-route', 'cannot-be-made', 'thirty-runs', 'inch-skid', 'two-bends']) {
    const document = sample(name)
    const before = check(document)
    for (const finding of before) {
      const fix = knownFix(document, finding, 'mm')
      if (!fix?.ok || finding.rule === 'clrNotInTooling') continue
      offered++
      const after = check(fix.document)
      expect(
        after.some(f => f.id === finding.id && f.severity === finding.severity),
        `${name}: ${finding.id}`,
      ).toBe(false)
      expect(
        bad(after).filter(id => !bad(before).includes(id)),
        `${name}: ${finding.id}`,
      ).toEqual([])
      expect(fix.document.fittings).toBe(document.fittings)
    }
  }
  expect(offered).toBeGreaterThan(3)
})

test('the straight at the sample’s manifold is made exactly as long as its nut needs', () => {
  const document = sample('first-route')
  const finding = check(document).find(f => f.rule === 'fittingStraight')!
  const fix = knownFix(document, finding, 'mm')
  if (!fix?.ok) throw new Error('the fix should be offered')
  const straights = solveDocument(fix.document)[0]!.route!.straights
  expect(straights.at(-1)).toBeCloseTo(finding.limit!, 8)
})

test('a route held at both ends with nothing between them to move is refused with the reason', () => {
  const document = sample('first-route')
  const run = document.runs[0]!
  const straight: SkidDocument = {
    ...document,
    runs: [{ ...run, vertices: [], endA: { kind: 'free', at: [0, 0, 0] }, endB: run.endB }],
  }
  const finding: Finding = {
    id: 'fittingStraight:x',
    rule: 'fittingStraight',
    severity: 'error',
    where: { run: run.id, kind: 'straight', index: 0 },
    measured: 10,
    limit: 24,
    unit: 'mm',
    ...told(say``),
  }
  const both: SkidDocument = { ...straight, runs: [{ ...straight.runs[0]!, endA: run.endA }] }
  expect(knownFix(both, finding, 'mm')).toMatchObject({
    ok: false,
    reason: expect.stringContaining('both ends'),
  })
})

test('a finding of a rule without a known mend offers none', () => {
  const document = sample('first-route')
  const finding: Finding = {
    id: 'angleBeyondStop:x',
    rule: 'angleBeyondStop',
    severity: 'error',
    where: { run: document.runs[0]!.id, kind: 'bend', index: 0 },
    measured: 200,
    limit: 190,
    unit: 'deg',
    ...told(say``),
  }
  expect(knownFix(document, finding, 'mm')).toBeNull()
})
