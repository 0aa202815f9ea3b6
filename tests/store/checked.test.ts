import { describe, expect, test } from 'vitest'
import { mergeWorstFirst, runChecks, worstFirst } from '../../src/checks/runChecks.ts'
import * as edits from '../../src/document/edits.ts'
import { knownBender } from '../../src/document/knownBenders.ts'
import { say, told } from '../../src/document/sentence.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { fastFindings } from '../../src/store/checked.ts'
import { findingsByRun } from '../../src/store/findings.ts'
import { manyRuns } from '../manyRuns.ts'
import { type Random, seeded } from '../random.ts'

const SEED = 41
const EDITS = 300

const whole = (document: SkidDocument) => runChecks(document, solveDocument(document)).findings
const bender = knownBender('bench-left')?.bender

function edited(random: Random, d: SkidDocument): SkidDocument {
  const run = d.runs[random.whole(0, d.runs.length - 1)]!
  const vertex = run.vertices[random.whole(0, run.vertices.length - 1)]
  switch (random.whole(0, 7)) {
    case 0:
      return edits.editRun(d, run.id, r => ({ ...r, clr: random.between(1, 90) }))
    case 1:
      return edits.editRun(d, run.id, r => ({
        ...r,
        tube: { ...r.tube, wall: random.between(0.5, 9), catalogueId: null },
      }))
    case 2:
      return d.runs.length > 5 ? edits.removeRun(d, run.id) : d
    case 3:
      return edits.addRun(d, {
        ...run,
        id: edits.freshId(
          'run',
          d.runs.map(r => r.id),
        ),
      })
    case 4:
      return { ...d, benders: bender && d.benders.length === 0 ? [bender] : [] }
    case 5:
      return edits.editRun(d, run.id, r => ({ ...r, bender: r.bender ? null : (bender?.id ?? 'none') }))
    case 6:
      return { ...d, runs: [...d.runs].reverse() }
    default:
      return vertex
        ? edits.movePoint(d, run.id, vertex.id, [random.between(0, 900), random.between(0, 900), 400])
        : d
  }
}

describe('findings kept from edit to edit', () => {
  test(`after every one of ${EDITS} random edits they are those of a full check, in order; seed ${SEED}`, () => {
    const random = seeded(SEED)
    let document = manyRuns(25)
    const earlier = [document]
    let found = 0
    for (let k = 0; k < EDITS; k++) {
      // Undo goes back to documents whose runs are known from before.
      document =
        random.next() < 0.1 ? earlier[random.whole(0, earlier.length - 1)]! : edited(random, document)
      earlier.push(document)
      const findings = fastFindings(document)
      expect(findings).toEqual(whole(document))
      found += findings.length
    }
    expect(found).toBeGreaterThan(EDITS * 20)
  })
  test('an edit of one run leaves the findings of the others the same objects', () => {
    const document = manyRuns(50)
    const before = new Set(fastFindings(document))
    const after = fastFindings(edits.editRun(document, 'run7', r => ({ ...r, clr: 200 })))
    const fresh = after.filter(f => !before.has(f))
    expect(fresh.length).toBeGreaterThan(0)
    expect(fresh.every(f => f.where.run === 'run7')).toBe(true)
  })
})

test(`two lists in order merge to what sorting both gives; seed ${SEED}`, () => {
  const random = seeded(SEED)
  const all = whole(edited(random, { ...manyRuns(40), benders: bender ? [bender] : [] }))
  for (let k = 0; k < 50; k++) {
    const [a, b] = [all.filter(() => random.next() < 0.5), all.filter(() => random.next() < 0.5)]
    const left = a.filter(f => !b.includes(f))
    expect(mergeWorstFirst(left, b)).toEqual(worstFirst([...b, ...left]))
  }
})

test('a pair is among the findings of both its runs, once each', () => {
  const pair = {
    id: 'clearance:a:b',
    rule: 'clash',
    severity: 'error',
    where: { run: 'a', kind: 'pair', index: null, other: 'b' },
    measured: -1,
    limit: 0,
    unit: 'mm',
    ...told(say``),
  } as const
  const self = { ...pair, id: 'clearance:a:a', where: { ...pair.where, other: 'a' } }
  const map = findingsByRun([pair, self])
  expect(map.get('a')).toEqual([pair, self])
  expect(map.get('b')).toEqual([pair])
})
