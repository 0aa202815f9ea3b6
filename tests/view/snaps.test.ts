import { describe, expect, test } from 'vitest'
import type { Fitting, Solid } from '../../src/document/types.ts'
import { distance, dot, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import {
  freedoms,
  lineThrough,
  meet,
  nearestOn,
  planeThrough,
  SPACE,
  underRay,
} from '../../src/view/scene/flat.ts'
import { atRadius, pointLimits, rounded, stillAxis } from '../../src/view/scene/pointLimits.ts'
import { rayMeetsSolid } from '../../src/view/scene/raySolid.ts'
import { snap } from '../../src/view/scene/snaps.ts'
import { nearbyTargets, snapTargets } from '../../src/view/scene/snapTargets.ts'
import { pressKey, typedFields } from '../../src/view/scene/typedFields.ts'

const fitting: Fitting = {
  id: 'f1',
  name: 'Header tap',
  catalogueId: null,
  position: [0, 0, 0],
  axis: [0, 0, 2],
  insertionDepth: 0,
  straightNeeded: 0,
  tubeOd: null,
}
const box: Solid = {
  id: 's1',
  name: 'Panel',
  kind: 'equipment',
  fitting: null,
  shape: 'box',
  at: [0, 500, 0],
  size: [400, 100, 400],
  turn: [0, 0, 0],
}
const context = (points: Vec3[], moving: number) => ({
  points,
  ids: points.map((_, i) => (i === 0 ? 'A' : i === points.length - 1 ? 'B' : `v${i}`)),
  moving,
  fittings: [fitting],
  solids: [box],
  od: 12,
})
const route: Vec3[] = [
  [0, 0, 0],
  [0, 0, 200],
  [300, 10, 205],
  [300, 400, 205],
]

describe('flats', () => {
  test('two planes meet in a line, a third in the point that lies on all', () => {
    const line = meet(planeThrough([1, 2, 3], [1, 0, 0]), planeThrough([1, 2, 3], unit([1, 1, 0])!))!
    expect(freedoms(line)).toBe(1)
    const point = meet(line, planeThrough([9, 9, 7], [0, 0, 1]))!
    expect(freedoms(point)).toBe(0)
    expect(distance(nearestOn(point, [50, 60, 70]), [1, 2, 7])).toBeLessThan(1e-9)
  })
  test('parallel planes apart never meet; a flat met with itself is itself', () => {
    const plane = planeThrough([0, 0, 5], [0, 0, 1])
    expect(meet(plane, planeThrough([0, 0, 6], [0, 0, 1]))).toBeNull()
    expect(meet(plane, plane)).toBe(plane)
  })
  test('the point of a line under a ray is where they come nearest', () => {
    const at = underRay(lineThrough([0, 0, 0], [1, 0, 0]), [30, -100, 8], [0, 1, 0])!
    expect(distance(at, [30, 0, 0])).toBeLessThan(1e-9)
  })
})

describe('limits of a drag', () => {
  const start: Vec3 = [10, 20, 30]
  test('a lock leaves one axis free, and a typed move along it none', () => {
    const locked = pointLimits(start, 'z', 'x', {})
    expect(freedoms(locked)).toBe(1)
    expect(nearestOn(locked, [99, 98, 97])).toEqual([99, 20, 30])
    expect(nearestOn(pointLimits(start, 'z', 'x', { by: -4 }), [99, 98, 97])).toEqual([6, 20, 30])
  })
  test('without a lock the still axis stays unless it is typed', () => {
    expect(nearestOn(pointLimits(start, 'z', null, {}), [1, 2, 3])).toEqual([1, 2, 30])
    expect(nearestOn(pointLimits(start, 'z', null, { z: 5, x: 7.25 }), [1, 2, 3])).toEqual([7.25, 2, 5])
  })
  test('rounding touches free coordinates only', () => {
    expect(rounded(pointLimits([10, 20, 30.3], 'z', null, {}), [1.4, 2.6, 9], 1)).toEqual([1, 3, 30.3])
  })
  test('a typed leg length is kept exactly, within the plane of the drag; what cannot be is refused', () => {
    const flat = pointLimits(start, 'z', null, {})
    const at = atRadius(flat, [200, 20, 30], [0, 0, 0], 150)!
    expect(distance(at, [0, 0, 0])).toBeCloseTo(150, 9)
    expect(at[2]).toBeCloseTo(30, 9)
    expect(atRadius(flat, [200, 20, 30], [0, 0, 0], 29)).toBeNull()
  })
  test('seen from above z stays; seen from the front y stays', () => {
    expect(stillAxis([0.5, -0.5, 0.7])).toBe('z')
    expect(stillAxis([0.1, -0.99, 0.1])).toBe('y')
  })
})

describe('snaps', () => {
  const targets = snapTargets(context(route, 2))
  test('a point near level and near the same y is pulled onto both at once, and both are named', () => {
    const got = snap([298, 6, 197], SPACE, targets, 10)
    expect(got.names).toEqual(expect.arrayContaining(['square at point 2']))
    expect(got.point[2]).toBeCloseTo(200, 9)
    expect(got.point[0]).toBeCloseTo(300, 9)
  })
  test('a point near a fitting’s axis is pulled onto it', () => {
    const got = snap([3, -4, 260], SPACE, snapTargets(context(route, 1)), 8)
    expect(got.names).toContain('on the axis of Header tap')
    expect(Math.hypot(got.point[0], got.point[1])).toBeLessThan(1e-9)
  })
  test('45° at a point is 45° to the leg that comes in', () => {
    const got = snap([104, 150, 385], planeThrough([104, 150, 385], [1, 0, 0]), targets, 1e-9)
    expect(got.names).toEqual([])
    const near = snap([0, 100, 303], planeThrough([0, 0, 0], [1, 0, 0]), targets, 5)
    expect(near.names).toContain('45° at point 2')
    const out = unit(sub(near.point, [0, 0, 200]))!
    expect(dot(out, [0, 0, 1])).toBeCloseTo(Math.SQRT1_2, 9)
  })
  test('on a face the tube rests with its outside', () => {
    const got = snap([40, 447, 60], SPACE, targets, 4)
    expect(got.names).toContain('on a face of Panel')
    expect(got.point[1]).toBeCloseTo(450 - 6, 9)
  })
  test('nothing leaves the drag’s own limits', () => {
    const flat = pointLimits([298, 6, 197], 'z', null, {})
    expect(snap([298, 6, 197], flat, targets, 20).point[2]).toBeCloseTo(197, 9)
  })
  test('out of reach nothing is pulled', () => {
    expect(snap([150, 77, 288], SPACE, targets, 3)).toEqual({ point: [150, 77, 288], names: [], guides: [] })
  })
})

describe('snaps to other parts', () => {
  const others = [
    {
      name: 'point 3 of AE-102',
      at: [300, 40, 77] as const,
      leg: { name: 'leg 3 of AE-102', to: [300, 240, 77] as const },
    },
    { name: 'far point', at: [5000, 0, 12] as const, leg: null },
  ]
  test('have names: over it, level with it, in line with its leg', () => {
    expect(snap([301, 41, 300], SPACE, nearbyTargets(others, [301, 41, 300]), 4).names).toContain(
      'over point 3 of AE-102',
    )
    expect(snap([420, 90, 78.5], SPACE, nearbyTargets(others, [420, 90, 78.5]), 4)).toMatchObject({
      point: [420, 90, 77],
      names: ['level with point 3 of AE-102'],
    })
    const along = snap([302, 400, 78], SPACE, nearbyTargets(others, [302, 400, 78]), 4)
    expect(along.names).toContain('in line with leg 3 of AE-102')
    expect(along.point).toEqual([300, 400, 77])
  })
  test('only of what is near, and of no more than a few', () => {
    expect(nearbyTargets(others, [5000, 2000, 12])).toEqual([])
    const many = Array.from({ length: 50 }, (_, i) => ({ name: `p${i}`, at: [i, 0, i] as const, leg: null }))
    expect(
      new Set(nearbyTargets(many, [0, 0, 0]).map(t => t.name.split(' ').at(-1))).size,
    ).toBeLessThanOrEqual(5)
  })
  test('a tube can run as high as one that lies on a box, beside the box', () => {
    const targets = snapTargets({
      points: [
        [0, 0, 0],
        [0, 0, 1],
      ],
      ids: ['A', 'B'],
      moving: 1,
      fittings: [],
      solids: [box],
      od: 12,
    })
    const top = box.at[2] + box.size[2] / 2 + 6
    const got = snap([box.at[0] + 260, box.at[1], top + 2], SPACE, targets, 4)
    expect(got.names).toContain(`as high as on top of ${box.name}`)
    expect(got.point[2]).toBeCloseTo(top, 9)
  })
})

describe('typed figures', () => {
  const type = (keys: string[], unit: 'mm' | 'fraction' = 'mm') => {
    let fields = typedFields(['x', 'y', 'z'])
    let done = false
    for (const key of keys) {
      const pressed = pressKey(fields, key, unit)
      if (!pressed) throw new Error(`key ${key} was not taken`)
      ;({ fields, done } = pressed)
    }
    return { fields, done }
  }
  test('digits, a semicolon, digits, Enter set two fields exactly', () => {
    const { fields, done } = type([...'157.1625;-40', 'Enter'])
    expect(done).toBe(true)
    expect(fields.taken).toEqual({ x: 157.1625, y: -40 })
  })
  test('fractions of an inch are exact', () => {
    expect(type([...'6 3/16', 'Enter'], 'fraction').fields.taken).toEqual({ x: 157.1625 })
  })
  test('a text that is no length is refused with a reason and stays', () => {
    const { fields, done } = type([...'12qq', 'Enter'])
    expect(done).toBe(false)
    expect(fields.refused).not.toBe('')
    expect(fields.text).toBe('12qq')
  })
  test('Backspace takes back what was taken, then goes to the field before', () => {
    expect(type([...'12;34;', 'Backspace']).fields).toMatchObject({ active: 1, taken: { x: 12 } })
    expect(type([...'12;', 'Backspace', 'Backspace', ...'5', 'Enter']).fields.taken).toEqual({ x: 5 })
  })
  test('a letter before any digit is not its business', () => {
    expect(pressKey(typedFields(['x']), 'x', 'mm')).toBeNull()
  })
})

describe('rays and solids', () => {
  test('a ray meets the near face of a box, its normal outwards', () => {
    const hit = rayMeetsSolid({ origin: [10, -1000, 20], direction: [0, 1, 0] }, box)!
    expect(hit.point).toEqual([10, 450, 20])
    expect(distance(hit.normal, [0, -1, 0])).toBeLessThan(1e-12)
  })
  test('a ray meets a cylinder on its side and on its end, and misses beside it', () => {
    const cylinder: Solid = {
      ...box,
      shape: 'cylinder',
      at: [0, 0, 100],
      axis: [0, 0, 3],
      length: 200,
      radius: 50,
    }
    const side = rayMeetsSolid({ origin: [-500, 30, 100], direction: [1, 0, 0] }, cylinder)!
    expect(distance(side.point, [-40, 30, 100])).toBeLessThan(1e-9)
    expect(distance(side.normal, [-0.8, 0.6, 0])).toBeLessThan(1e-9)
    const top = rayMeetsSolid({ origin: [10, 10, 900], direction: [0, 0, -1] }, cylinder)!
    expect(top.point).toEqual([10, 10, 200])
    expect(rayMeetsSolid({ origin: [-500, 51, 100], direction: [1, 0, 0] }, cylinder)).toBeNull()
    expect(rayMeetsSolid({ origin: [-500, 0, 201], direction: [1, 0, 0] }, cylinder)).toBeNull()
  })
  test('a turned box is met where its turned face is', () => {
    const turned: Solid = { ...box, at: [0, 0, 0], size: [100, 100, 100], turn: [0, 0, 45] }
    const hit = rayMeetsSolid({ origin: [-500, 0.001, 0], direction: [1, 0, 0] }, turned)!
    expect(hit.point[0]).toBeCloseTo(-Math.SQRT1_2 * 100, 2)
  })
})
