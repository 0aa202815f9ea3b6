import { expect, test } from 'vitest'
import { runChecks } from '../../src/checks/runChecks.ts'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { Fitting, SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { addNewRun, freshTag } from '../../src/view/panels/addNewRun.ts'

const port = (id: string, position: Vec3, axis: Vec3): Fitting => ({
  id,
  name: id,
  catalogueId: null,
  position,
  axis,
  insertionDepth: 10,
  straightNeeded: 20,
  tubeOd: null,
})
const skid = (...fittings: Fitting[]): SkidDocument => ({ ...emptyDocument('test'), fittings })

test.each([
  ['facing the same way', [600, 0, 0], [1, 0, 0]],
  ['facing each other in line', [900, 0, 0], [-1, 0, 0]],
  ['facing each other offset', [900, 300, 0], [-1, 0, 0]],
  ['square to each other', [500, 400, 0], [0, 1, 0]],
  ['side by side', [0, 200, 0], [1, 0, 0]],
  ['skew in space', [400, 500, 300], [0, 0, 1]],
  ['back to back', [-300, 0, 0], [-1, 0, 0]],
] as [string, Vec3, Vec3][])(
  'a new run between ports %s solves and leaves both along their axes',
  (_, at, axis) => {
    const { document } = addNewRun(skid(port('a', [0, 0, 0], [1, 0, 0]), port('b', at, axis)), 'a', 'b')
    const solved = solveDocument(document)
    expect(solved[0]!.route?.straights.every(s => s >= 0)).toBe(true)
    expect(runChecks(document, solved).findings.filter(f => f.severity === 'error')).toEqual([])
  },
)

test('a run with two free ends is one straight tube', () => {
  const { document, run } = addNewRun(skid(), '', '')
  expect(run.vertices).toEqual([])
  expect(solveDocument(document)[0]!.route?.straights).toEqual([300])
})

test('a tag counts up from the last one, keeps its zeros and is never taken twice', () => {
  const { document } = addNewRun(skid(), '', '')
  const tagged = { ...document, runs: [{ ...document.runs[0]!, tag: 'AE-009' }] }
  expect(freshTag(tagged, 'AE-009')).toBe('AE-010')
  expect(freshTag(tagged, 'drain')).toBe('drain-1')
})
