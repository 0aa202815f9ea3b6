import { Color, type Mesh, MeshBasicMaterial } from 'three'
import { expect, test } from 'vitest'
import { solveDocument } from '../../src/solve/solveRun.ts'
import { type BatchTube, TubeBatch } from '../../src/view/scene/tubeBatch.ts'
import { detailForMany } from '../../src/view/scene/tubeGeometry.ts'
import { manyRuns } from '../manyRuns.ts'
import { seeded } from '../random.ts'

const DETAIL = detailForMany([], true).detail
const [grey, dark, red] = [new Color(0.5, 0.5, 0.5), new Color(0.25, 0.25, 0.25), new Color(1, 0, 0)]

function tubesOf(count: number, seed = 5): BatchTube[] {
  const document = manyRuns(count, seed)
  return solveDocument(document).map((s, i) => ({
    id: s.runId,
    route: s.route!,
    od: document.runs[i]!.tube.od,
    wall: 0,
    shown: true,
    straight: grey,
    bend: dark,
  }))
}
const meshes = (batch: TubeBatch) => batch.group.children as Mesh[]
const all = (batch: TubeBatch) => {
  while (!batch.work(1000));
  return batch
}
function filled(tubes: readonly BatchTube[], detail = DETAIL): TubeBatch {
  const batch = new TubeBatch()
  batch.set(tubes, detail)
  return all(batch)
}

/** Every drawn triangle with place and colour of its corners, in an order of its own. */
function drawn(batch: TubeBatch): string[] {
  return meshes(batch)
    .filter(m => m.visible)
    .flatMap(({ geometry: g }) => {
      const corner = (i: number) => {
        const [p, c] = [g.getAttribute('position'), g.getAttribute('color')]
        return [p.getX(i), p.getY(i), p.getZ(i), c.getX(i), c.getY(i), c.getZ(i)]
          .map(v => v.toFixed(3))
          .join()
      }
      return Array.from({ length: g.drawRange.count / 3 }, (_, t) =>
        [0, 1, 2].map(k => corner(g.index!.getX(3 * t + k))).join(' '),
      )
    })
    .sort()
}

test('a thousand tubes are drawn in sixteen calls, each left out when it is out of the picture', () => {
  const batch = filled(tubesOf(1000))
  expect(meshes(batch).length).toBe(16)
  for (const mesh of meshes(batch)) {
    expect(mesh.frustumCulled).toBe(true)
    expect(mesh.geometry.boundingSphere!.radius).toBeGreaterThan(100)
  }
})

test('hiding and colouring leave positions and triangles as they are', () => {
  const tubes = tubesOf(100)
  const batch = filled(tubes)
  const before = meshes(batch).map(m => m.geometry)
  const whole = drawn(batch)
  batch.set(
    tubes.map((t, i) => ({ ...t, shown: i !== 3, straight: i === 70 ? red : grey })),
    DETAIL,
  )
  all(batch)
  expect(meshes(batch).map(m => m.geometry)).toEqual(before)
  const without = drawn(batch)
  const one = drawn(filled([tubes[3]!]))
  expect(without.length).toBe(whole.length - one.length)
  expect(without.filter(t => t.includes('1.000,0.000,0.000')).length).toBeGreaterThan(50)
})

test('an edit of one run makes only its own buffer anew', () => {
  const tubes = tubesOf(300)
  const batch = filled(tubes)
  const before = meshes(batch).map(m => m.geometry)
  batch.set(
    tubes.map((t, i) => (i === 150 ? { ...t, od: 20 } : t)),
    DETAIL,
  )
  all(batch)
  const after = meshes(batch).map(m => m.geometry)
  expect(after.filter((g, i) => g !== before[i]).length).toBe(1)
})

test('work goes on bit by bit, and nothing is half there', () => {
  const batch = new TubeBatch()
  batch.set(tubesOf(300), DETAIL)
  let steps = 1
  while (!batch.work(0)) {
    expect(meshes(batch).filter(m => m.visible).length).toBeLessThan(5)
    steps++
    if (steps > 50) throw new Error('it never ends')
  }
  expect(meshes(batch).every(m => m.visible)).toBe(true)
})

const SEED = 77
test(`after any changes the picture is that of a fresh batch; seed ${SEED}`, () => {
  const random = seeded(SEED)
  const pool = [...tubesOf(90, 1), ...tubesOf(90, 2).map(t => ({ ...t, id: `x${t.id}` }))]
  let tubes = pool.slice(0, 70)
  const batch = new TubeBatch()
  batch.setMaterial(new MeshBasicMaterial())
  for (let k = 0; k < 40; k++) {
    const at = random.whole(0, tubes.length - 1)
    const change = random.whole(0, 5)
    if (change === 0) tubes = tubes.filter((_, i) => i % 7 !== k % 7 || tubes.length < 20)
    else if (change === 1) tubes = [...new Set([...tubes, ...pool.slice(at, at + 30)])]
    else
      tubes = tubes.map((t, i) => {
        if (i !== at) return t
        if (change === 2) return { ...t, shown: !t.shown }
        if (change === 3) return { ...t, straight: t.straight === red ? grey : red }
        return change === 4 ? { ...t, od: random.between(4, 20) } : { ...t, wall: 0.5 }
      })
    tubes = tubes.filter((t, i) => tubes.findIndex(o => o.id === t.id) === i)
    batch.set(tubes, DETAIL)
    // Some changes come before the last is done.
    if (random.next() < 0.6) all(batch)
    else batch.work(0)
  }
  all(batch)
  expect(drawn(batch)).toEqual(drawn(filled(tubes)))
})
