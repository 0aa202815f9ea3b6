import { expect, test } from 'vitest'
import { emptyDocument } from '../../src/document/newDocument.ts'
import type { SkidDocument } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'
import { clearances } from '../../src/skid/clearance.ts'
import { clearanceFindings } from '../../src/skid/clearanceFindings.ts'
import type { MeshBody } from '../../src/skid/parts.ts'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { boxMesh } from '../geometry/boxMesh.ts'
import { seeded } from '../random.ts'
import { randomRun } from './randomScene.ts'

/** A closed box as twelve triangles, an imported housing. */
const housing = (low: Vec3, high: Vec3): MeshBody => ({
  id: 'm1',
  name: 'Housing',
  kind: 'equipment',
  fitting: null,
  tree: boxMesh(low, high),
})

function straightRun(from: Vec3, to: Vec3): SkidDocument {
  const run = randomRun(seeded(1), 'r1', from, 0)
  return {
    ...emptyDocument('Mesh, invented'),
    runs: [
      {
        ...run,
        tube: { ...run.tube, od: 10 },
        insulation: 3,
        endA: { kind: 'free', at: from },
        endB: { kind: 'free', at: to },
      },
    ],
  }
}

const mesh = housing([-100, -100, -100], [100, 100, 100])

test('a run beside an imported body is measured and asked for like one beside equipment', () => {
  const d = straightRun([-50, 0, 115], [50, 0, 115])
  const [pair] = clearances(d, solveDocument(d), { within: 50, meshes: [mesh] })
  expect(pair).toMatchObject({ a: 'T-r1', b: 'Housing', bId: 'm1', kind: 'mesh', required: 25, placeB: null })
  // 15 to the axis, less 5 and the 3 of insulation.
  expect(pair!.clearance).toBeCloseTo(7, 6)
  expect(clearanceFindings(d, solveDocument(d), [mesh])).toMatchObject([
    { id: 'clearance:r1:m1', rule: 'tooClose', limit: 25 },
  ])
})

test('a run wholly inside a closed body is a clash, however far its surface', () => {
  const d = straightRun([-30, 0, 0], [30, 0, 20])
  const [finding] = clearanceFindings(d, solveDocument(d), [mesh])
  expect(finding).toMatchObject({ id: 'clearance:r1:m1', rule: 'clash', severity: 'error' })
  // The end at x = 30 is nearest to a face at 100 … its own reach of 5 mm at most further.
  expect(finding!.measured).toBeLessThan(-70)
})
