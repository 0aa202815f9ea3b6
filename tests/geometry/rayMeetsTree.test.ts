import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from 'three'
import { MeshBVH } from 'three-mesh-bvh'
import { describe, expect, test } from 'vitest'
import { rayMeetsTree } from '../../src/geometry/rayMeetsTree.ts'
import { triangleAt, triangleTree } from '../../src/geometry/triangleTree.ts'
import { addScaled, cross, dot, sub, unit, type Vec3 } from '../../src/geometry/vec3.ts'
import { seeded } from '../random.ts'
import { waveMesh } from '../skid/waveMesh.ts'

/** A cube of edge 2 about the origin, two triangles a face. */
const CUBE = triangleTree(
  [-1, 1].flatMap(x => [-1, 1].flatMap(y => [-1, 1].flatMap(z => [x, y, z]))),
  [
    [0, 1, 3, 2],
    [4, 6, 7, 5],
    [0, 4, 5, 1],
    [2, 3, 7, 6],
    [0, 2, 6, 4],
    [1, 5, 7, 3],
  ].flatMap(([a, b, c, d]) => [a, b, c, a, c, d] as number[]),
)

describe('a ray against a mesh', () => {
  test('meets the near face of a cube, from outside and from inside, and nothing beside it', () => {
    expect(rayMeetsTree(CUBE, [-5, 0.2, 0.3], [1, 0, 0])?.along).toBe(4)
    expect(rayMeetsTree(CUBE, [0, 0.2, 0.3], [1, 0, 0])?.along).toBe(1)
    expect(rayMeetsTree(CUBE, [5, 0.2, 0.3], [1, 0, 0])).toBeNull()
    expect(rayMeetsTree(CUBE, [-5, 1.2, 0.3], [1, 0, 0])).toBeNull()
  })
  test('counts along in lengths of its own way, and not beyond what is asked', () => {
    expect(rayMeetsTree(CUBE, [-5, 0.2, 0.3], [2, 0, 0])?.along).toBe(2)
    expect(rayMeetsTree(CUBE, [-5, 0.2, 0.3], [1, 0, 0], 3.9)).toBeNull()
  })
  test('does not slip through between two triangles of a face, nor past a corner', () => {
    for (let i = 0; i <= 40; i++) {
      const t = -1 + i / 20
      expect(rayMeetsTree(CUBE, [-5, t, t], [1, 0, 0])?.along, `${t}`).toBeCloseTo(4, 12)
      expect(rayMeetsTree(CUBE, [-5, t, -t], [1, 0, 0])?.along, `${t}`).toBeCloseTo(4, 12)
    }
  })
  test.each([11, 12, 13])('meets what three-mesh-bvh meets, 400 rays on 5,000 triangles, seed %i', seed => {
    const random = seeded(seed)
    const { positions, indices } = waveMesh(50, 400)
    const tree = triangleTree(positions, indices)
    const geometry = new BufferGeometry()
    geometry.setAttribute('position', new BufferAttribute(positions, 3))
    geometry.setIndex(new BufferAttribute(indices, 1))
    const judge = new MeshBVH(geometry, { indirect: true })
    let met = 0
    for (let i = 0; i < 400; i++) {
      const from: Vec3 = [random.between(-250, 250), random.between(-250, 250), random.between(-80, 80)]
      const way = random.direction()
      const ours = rayMeetsTree(tree, from, way)
      const theirs = judge.raycastFirst(new Ray(new Vector3(...from), new Vector3(...way)), DoubleSide)
      expect(ours === null, `ray ${i}`).toBe(theirs === null)
      if (!ours || !theirs) continue
      met++
      expect(ours.along, `ray ${i}`).toBeCloseTo(theirs.distance, 4)
      const [a, b, c] = triangleAt(tree, ours.triangle)
      const normal = unit(cross(sub(b, a), sub(c, a)))!
      const off = dot(sub(addScaled(from, way, ours.along), a), normal)
      expect(Math.abs(off), `ray ${i} lies in its triangle`).toBeLessThan(1e-9)
    }
    expect(met).toBeGreaterThan(80)
  })
})
