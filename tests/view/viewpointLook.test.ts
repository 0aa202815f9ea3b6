import { expect, test } from 'vitest'
import { distance } from '../../src/geometry/vec3.ts'
import { planeOf, sectionFrom } from '../../src/store/sectionStore.ts'
import { hiddenOf, lookNow } from '../../src/view/look/viewpointLook.ts'
import type { Rig } from '../../src/view/scene/cameraRig.ts'
import { isCutAway, keptSegment, rayMeetsCutSolid } from '../../src/view/scene/cut.ts'
import { rigOfStand, standOfRig } from '../../src/view/scene/viewFromCamera.ts'
import { sampleDocument } from '../document/sampleDocument.ts'
import { seeded } from '../random.ts'

const SEED = 88
test(`a saved camera comes back within 1e-9 and never past straight up or down (seed ${SEED})`, () => {
  const random = seeded(SEED)
  for (let k = 0; k < 2000; k++) {
    const rig: Rig = {
      target: [random.between(-1e4, 1e4), random.between(-1e4, 1e4), random.between(-1e4, 1e4)],
      yaw: random.between(-20, 20),
      pitch: k === 0 ? Math.PI / 2 : k === 1 ? -Math.PI / 2 : random.between(-Math.PI / 2, Math.PI / 2),
      span: random.between(0.5, 1e6),
      projection: k % 2 ? 'perspective' : 'orthographic',
    }
    const stand = standOfRig(rig)
    expect(Math.abs(stand.pitch)).toBeLessThanOrEqual(90)
    const back = rigOfStand(stand)
    expect(back).toMatchObject({ target: rig.target, span: rig.span, projection: rig.projection })
    expect(Math.abs(back.yaw - rig.yaw)).toBeLessThan(1e-9)
    expect(Math.abs(back.pitch - rig.pitch)).toBeLessThan(1e-9)
  }
})

test(`a saved section comes back as the same plane, along an axis or askew (seed ${SEED + 1})`, () => {
  const random = seeded(SEED + 1)
  for (let k = 0; k < 300; k++) {
    const axes = [
      [1, 0, 0],
      [0, -1, 0],
      [0, 0, 1],
    ] as const
    const normal = k < 90 ? axes[k % 3]! : random.direction()
    const at = [random.between(-900, 900), random.between(-900, 900), random.between(-900, 900)] as const
    const back = planeOf(sectionFrom({ at, normal }))
    expect(distance(back.at, at)).toBeLessThan(1e-9)
    expect(distance(back.normal, normal)).toBeLessThan(1e-9)
  }
})

test('what was hidden is told apart by run and body, and what is gone is counted', () => {
  const document = sampleDocument()
  const seen = {
    section: null,
    hiddenBy: { hand: new Set(['r2']), isolation: null, comparison: new Set(['r1']) },
    hiddenBodies: new Set(['s4', 'm1/frame/decal']),
  }
  const rig: Rig = { target: [0, 0, 0], yaw: 0, pitch: 0, span: 100, projection: 'perspective' }
  const { hidden } = lookNow(rig, seen)
  expect(hiddenOf(document, [...hidden, 'deleted'])).toEqual({
    runs: seen.hiddenBy.hand,
    bodies: seen.hiddenBodies,
    gone: 1,
  })
})

test('of a segment and of a box only what the section leaves is there', () => {
  const section = { at: [10, 0, 0], normal: [1, 0, 0] } as const
  expect(isCutAway(section, [11, 5, 5])).toBe(true)
  expect(isCutAway(section, [10, 5, 5])).toBe(false)
  expect(keptSegment(section, [0, 0, 0], [40, 8, 0])).toEqual([
    [0, 0, 0],
    [10, 2, 0],
  ])
  expect(keptSegment(section, [20, 0, 0], [40, 8, 0])).toBeNull()
  const box = {
    id: 's',
    name: 'Box',
    kind: 'equipment',
    fitting: null,
    shape: 'box',
    at: [0, 0, 0],
    size: [100, 60, 60],
    turn: [0, 0, 0],
  } as const
  const ray = { origin: [500, 0, 0], direction: [-1, 0, 0] } as const
  expect(rayMeetsCutSolid(ray, box, null)?.point).toEqual([50, 0, 0])
  // The face that the cut makes is met where the plane is.
  expect(rayMeetsCutSolid(ray, box, section)?.point).toEqual([10, 0, 0])
  expect(rayMeetsCutSolid(ray, box, { at: [-60, 0, 0], normal: [1, 0, 0] })).toBeNull()
  expect(rayMeetsCutSolid({ origin: [30, 0, 500], direction: [0, 0, -1] }, box, section)).toBeNull()
})
