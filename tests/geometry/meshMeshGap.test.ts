import { expect, test } from 'vitest'
import { pointInMesh } from '../../src/geometry/meshInMesh.ts'
import { meshMeshGap, type RigidMap } from '../../src/geometry/meshMeshGap.ts'
import { triangleTree } from '../../src/geometry/triangleTree.ts'
import { waveMesh } from '../skid/waveMesh.ts'
import { boxMesh } from './boxMesh.ts'

const moved = (x: number, y: number, z: number): RigidMap => ({
  at: [x, y, z],
  axes: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
})

test('two boxes: face to face, edge to edge, corner to corner, touching, nothing beyond the limit', () => {
  const cube = boxMesh([0, 0, 0], [10, 10, 10])
  const gap = (map: RigidMap, limit = Infinity) => meshMeshGap(cube, cube, map, limit)?.gap
  expect(gap(moved(13, 2, 1))).toBe(3)
  expect(gap(moved(13, 14, 1))).toBe(5)
  expect(gap(moved(12, 13, 16))).toBe(7)
  expect(gap(moved(10, 3, 3))).toBe(0)
  expect(gap(moved(5, 5, 5))).toBe(0)
  expect(gap(moved(13, 14, 1), 5)).toBeUndefined()
})

test('left early, the figure is attained and the bound still holds the truth', () => {
  const { positions, indices } = waveMesh(60, 300)
  const skin = triangleTree(positions, indices)
  const over = moved(0, 0, 40)
  const whole = meshMeshGap(skin, skin, over, Infinity)!
  expect(whole.errorBound).toBeLessThanOrEqual(1e-6)
  for (const most of [0, 10, 100, 1000, 10_000]) {
    const early = meshMeshGap(skin, skin, over, Infinity, most)!
    expect(early.gap).toBeGreaterThanOrEqual(whole.gap - 1e-9)
    expect(early.gap - early.errorBound, `after ${most}`).toBeLessThanOrEqual(whole.gap)
  }
})

test('a loose piece within a closed part is found among others outside; an open part has no inside', () => {
  const house = boxMesh([0, 0, 0], [100, 100, 100])
  const pieces = [
    boxMesh([200, 0, 0], [210, 10, 10]),
    boxMesh([40, 40, 40], [45, 45, 45]),
    boxMesh([0, 0, 200], [10, 10, 210]),
  ]
  const loose = triangleTree(
    pieces.flatMap(p => [...p.corners]),
    null,
  )
  expect(pointInMesh(house, loose, moved(0, 0, 0))!.every(x => x >= 40 && x <= 45)).toBe(true)
  expect(pointInMesh(house, loose, moved(0, 0, 70))).toBeNull()
  const open = triangleTree(house.corners.slice(0, 90), null)
  expect(pointInMesh(open, boxMesh([40, 40, 40], [45, 45, 45]), moved(0, 0, 0))).toBeNull()
})
