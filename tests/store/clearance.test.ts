import { describe, expect, test } from 'vitest'
import { changeOf } from '../../src/document/documentChange.ts'
import { addRun, editRun, movePoint } from '../../src/document/edits.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Run, SkidDocument } from '../../src/document/types.ts'
import { createClearanceJob } from '../../src/skid/clearanceJob.ts'
import { clearanceOf } from '../../src/store/clearance.ts'

const run = (id: string, y: number): Run => ({
  id,
  tag: id.toUpperCase(),
  service: 'air',
  tube: { catalogueId: null, od: 10, wall: 1, material: '316' },
  clr: 30,
  bender: null,
  endA: { kind: 'free', at: [0, y, 100] },
  vertices: [],
  endB: { kind: 'free', at: [300, y, 100] },
  trimAllowance: 0,
  insulation: 0,
  quantity: 1,
})
/** Three parallel runs, 14 mm apart: 4 mm of gap where 10 are required. */
const document: SkidDocument = [run('r1', 0), run('r2', 14), run('r3', 28)].reduce(addRun, emptyDocument('x'))

const job = createClearanceJob()
async function answered(shown: SkidDocument) {
  const asking = { progress: () => {}, isLeft: () => false }
  const answer = await job.answer({ kind: 'check', change: structuredClone(changeOf(null, shown)) }, asking)
  if (answer?.kind !== 'checked') throw new Error('no answer')
  return { answered: shown, findings: answer.findings, pairs: answer.pairs, failure: '', outdated: false }
}

describe('clearance answers and the document that is shown', () => {
  test('an answer about the same document holds whole', async () => {
    const { findings, complete } = clearanceOf(document, await answered(document))
    expect(findings.map(f => f.id)).toEqual(['clearance:r1:r2', 'clearance:r2:r3'])
    expect(findings[0]!.measured).toBeCloseTo(4, 9)
    expect(complete).toBe(true)
  })
  test('after an edit only pairs that it did not touch are still shown, and not as all there is', async () => {
    const moved = editRun(document, 'r3', r => ({ ...r, insulation: 5 }))
    const { findings, complete } = clearanceOf(moved, await answered(document))
    expect(findings.map(f => f.id)).toEqual(['clearance:r1:r2'])
    expect(complete).toBe(false)
  })
  test('a change of the required gaps or of the fittings leaves nothing known', async () => {
    const looser = { ...document, clearances: { ...document.clearances, tube: 3 } }
    expect(clearanceOf(looser, await answered(document)).findings).toEqual([])
    expect(clearanceOf({ ...document, fittings: [] }, await answered(document)).findings).toEqual([])
  })
  test('before the first answer and after a failure nothing is complete', () => {
    const none = { answered: null, findings: [], pairs: [], failure: '', outdated: false }
    expect(clearanceOf(document, none)).toEqual({ findings: [], complete: false })
    expect(clearanceOf(document, { ...none, answered: document, failure: 'x' }).complete).toBe(false)
  })
  test('the worker, asked again after an edit, says what a fresh one would', async () => {
    await answered(document)
    const moved = movePoint(document, 'r3', 'B', [300, 60, 100])
    expect((await answered(moved)).findings.map(f => [f.id, f.measured])).toMatchObject([
      ['clearance:r1:r2', expect.closeTo(4, 9)],
      ['clearance:r2:r3', expect.closeTo(4, 1)],
    ])
  })
})
