import { Document, type Node, WebIO } from '@gltf-transform/core'
import { Matrix4, Object3D, Quaternion, Vector3 } from 'three'
import { describe, expect, test } from 'vitest'
import { BOX_FACES, boxCorners } from '../../geometry/boxMesh.ts'
import { type Random, seeded } from '../../random.ts'
import { glbBytes, gltfText, type LooseGltf } from './gltfMade.ts'
import { cornersOf, readHere, refusal, volumeOf } from './readHere.ts'

/** A lopsided box, so that no turn or mirror image of it is itself. */
const BOX = boxCorners([-0.25, 0.125, -1], [0.5, 1, 2])
const BOX_VOLUME = 0.75 * 0.875 * 3

interface Made {
  readonly bytes: Uint8Array
  /** Path of names → where three.js puts the box, or null for a node without one. */
  readonly worlds: Map<string, Matrix4>
}

/** A tree of nodes moved, turned, scaled and mirrored at random, some by matrix; the oracle is three.js. */
async function randomTree(random: Random): Promise<Made> {
  const made = new Document()
  const buffer = made.createBuffer()
  const primitive = made
    .createPrimitive()
    .setAttribute(
      'POSITION',
      made.createAccessor().setType('VEC3').setArray(Float32Array.from(BOX)).setBuffer(buffer),
    )
    .setIndices(
      made.createAccessor().setType('SCALAR').setArray(Uint16Array.from(BOX_FACES)).setBuffer(buffer),
    )
  const mesh = made.createMesh('box').addPrimitive(primitive)
  const scene = made.createScene()
  const worlds = new Map<string, Matrix4>()
  const grow = (parent: { addChild(n: Node): unknown }, above: Object3D, path: string, depth: number) => {
    const children = random.whole(1, 2)
    for (let i = 0; i < children; i++) {
      const name = `n${depth}${i}`
      const at = new Vector3(random.between(-3, 3), random.between(-3, 3), random.between(-3, 3))
      const turn = new Quaternion().setFromAxisAngle(
        new Vector3(...random.direction()),
        random.between(-3, 3),
      )
      const size = () => random.between(0.3, 2) * (random.next() < 0.35 ? -1 : 1)
      const scale = new Vector3(size(), size(), size())
      const node = made.createNode(name).setMesh(mesh)
      const object = new Object3D()
      if (random.next() < 0.5) node.setMatrix(new Matrix4().compose(at, turn, scale).toArray())
      else
        node
          .setTranslation([at.x, at.y, at.z])
          .setRotation([turn.x, turn.y, turn.z, turn.w])
          .setScale([scale.x, scale.y, scale.z])
      object.position.copy(at)
      object.quaternion.copy(turn)
      object.scale.copy(scale)
      above.add(object)
      object.updateWorldMatrix(true, false)
      parent.addChild(node)
      const own = path === '' ? name : `${path}/${name}`
      worlds.set(own, object.matrixWorld.clone())
      if (depth < 3) grow(node, object, own, depth + 1)
    }
  }
  grow(scene, new Object3D(), '', 0)
  return { bytes: await new WebIO().writeBinary(made), worlds }
}

const SEED = 20261
test(`nested, turned, scaled and mirrored nodes stand where three.js puts them, outside out (seed ${SEED})`, async () => {
  const random = seeded(SEED)
  let mirrored = 0
  for (let k = 0; k < 12; k++) {
    const { bytes, worlds } = await randomTree(random)
    const { parts, unitMm, up } = await readHere(bytes, 'tree.glb')
    expect([unitMm, up]).toEqual([1000, 'y'])
    expect(parts.map(p => p.key)).toEqual([...worlds.keys()])
    for (const part of parts) {
      const world = worlds.get(part.key)!
      const wanted = [...BOX.keys()]
        .filter(i => i % 3 === 0)
        .map(i => new Vector3(BOX[i], BOX[i + 1], BOX[i + 2]).applyMatrix4(world).toArray())
      const size = Math.max(...wanted.flat().map(Math.abs))
      wanted.forEach((corner, v) => {
        for (let a = 0; a < 3; a++)
          expect(Math.abs(part.positions[3 * v + a]! - corner[a]!), part.key).toBeLessThan(1e-12 * size)
      })
      const determinant = world.determinant()
      if (determinant < 0) mirrored++
      expect(volumeOf(part), part.key).toBeCloseTo(BOX_VOLUME * Math.abs(determinant), 9)
    }
  }
  expect(mirrored).toBeGreaterThan(20)
})

test('a .gltf with its data inside and a .glb of the same are the same, to the last digit', async () => {
  const text = await readHere(gltfText(), 'a.gltf')
  const binary = await readHere(glbBytes(), 'a.glb')
  expect(text).toEqual(binary)
  expect(volumeOf(text.parts[0]!)).toBeCloseTo(1, 12)
})

describe('the ways of writing triangles', () => {
  const corners = async (change: Parameters<typeof gltfText>[0]) =>
    cornersOf((await readHere(gltfText(change), 'a.gltf')).parts[0]!)

  test('a strip and a fan are the triangles of the specification, section 3.7.2.1', async () => {
    const points = [
      [0, 0, 0],
      [1, 0, 0],
      [0, 2, 0],
      [0, 0, 3],
    ]
    const at = (...list: number[]) => list.flatMap(i => points[i]!)
    const mode = (n: number) => (json: LooseGltf) => {
      json['meshes'][0].primitives[0] = { attributes: { POSITION: 0 }, mode: n }
    }
    expect(await corners(mode(5))).toEqual(at(0, 1, 2, 1, 3, 2))
    expect(await corners(mode(6))).toEqual(at(1, 2, 0, 2, 3, 0))
  })

  test('lines and points are left out and told', async () => {
    const read = await readHere(
      gltfText(json => {
        json['meshes'][0].primitives.push(
          { attributes: { POSITION: 0 }, mode: 1 },
          { attributes: { POSITION: 0 }, mode: 0 },
        )
      }),
      'a.gltf',
    )
    expect(read.parts).toHaveLength(1)
    expect(read.notes).toEqual([
      '2 lines are left out: only surfaces are measured.',
      '4 loose points are left out: only surfaces are measured.',
    ])
  })

  test('a sparse accessor has its changed places, normalised integers are shares of one', async () => {
    const bytes = new Uint8Array(4 + 12 + 12)
    bytes[0] = 3
    new DataView(bytes.buffer).setFloat32(4 + 8, 9, true)
    bytes.set([127, 0, 0, 0x81, 127, 0, 0, 0, 0x80, 0, 64, 127], 16)
    const uri = `data:;base64,${Buffer.from(bytes).toString('base64')}`
    const sparse = await corners(json => {
      json['buffers'].push({ byteLength: 28, uri })
      json['bufferViews'].push({ buffer: 1, byteLength: 4 }, { buffer: 1, byteOffset: 4, byteLength: 12 })
      json['accessors'][0].sparse = {
        count: 1,
        indices: { bufferView: 2, componentType: 5121 },
        values: { bufferView: 3 },
      }
    })
    expect(sparse).toContain(9)
    expect(sparse).not.toContain(3)
    const shares = await corners(json => {
      json['buffers'].push({ byteLength: 28, uri })
      json['bufferViews'].push({ buffer: 1, byteOffset: 16, byteLength: 12 })
      json['accessors'][0] = { bufferView: 2, componentType: 5120, normalized: true, count: 4, type: 'VEC3' }
    })
    expect(Math.min(...shares)).toBe(-1)
    expect(Math.max(...shares)).toBe(1)
    expect(shares).toContain(64 / 127)
  })
})

describe('a glTF file is refused with place, found and wanted', () => {
  // biome-ignore lint/suspicious/noExplicitAny: tests break it in every way
  const cases: [string, (json: any) => void, RegExp][] = [
    ['another version', j => (j.asset.version = '1.0'), /asset\.version: found "1\.0"; wanted "2\.0"/],
    [
      'a needed extension',
      j => (j.extensionsRequired = ['KHR_draco_mesh_compression']),
      /KHR_draco.*without compression/,
    ],
    [
      'data in another file',
      j => (j.buffers[0].uri = 'a%20b.bin'),
      /another file, "a b\.bin"; wanted it in the file itself/,
    ],
    ['no base64', j => (j.buffers[0].uri = 'data:;base64,*'), /no base64/],
    ['no data', j => delete j.buffers[0].uri, /buffers\[0\]: found no data/],
    ['a buffer cut off', j => (j.buffers[0].byteLength = 61), /found 60 bytes; wanted 61/],
    [
      'a view past its buffer',
      j => (j.bufferViews[0].byteOffset = 30),
      /bufferViews\[0\]: found bytes 30 to 78/,
    ],
    [
      'an accessor past its view',
      j => (j.accessors[0].count = 5),
      /accessors\[0\]: found 48 bytes for it; wanted 60/,
    ],
    ['a kind of number it has not', j => (j.accessors[0].componentType = 5124), /componentType: found 5124/],
    [
      'positions that are none',
      j => (j.accessors[0].type = 'VEC2'),
      /accessors\[0\]\.type: found "VEC2"; wanted "VEC3"/,
    ],
    [
      'a mesh that is not there',
      j => (j.nodes[0].mesh = 1),
      /nodes\[0\]\.mesh: found 1; wanted a whole number from 0 to 0/,
    ],
    ['a node below itself', j => (j.nodes[0].children = [0]), /nodes\[0\]/],
    ['a node twice', j => j.scenes[0].nodes.push(0), /nodes\[0\]: found it below itself or twice/],
    [
      'a child of two',
      j => {
        j.nodes.push({ children: [2] }, {})
        j.nodes[0].children = [2]
      },
      /which nodes\[\d\] has too/,
    ],
    [
      'a transform of words',
      j => (j.nodes[0].matrix = 'none'),
      /nodes\[0\]\.matrix: found "none"; wanted 16 finite numbers/,
    ],
    ['a turn of nothing', j => (j.nodes[0].rotation = [0, 0, null, 1]), /nodes\[0\]\.rotation/],
    ['corners of no triangle', j => (j.accessors[1].count = 11), /found 11 corners; wanted three a triangle/],
    ['no triangles', j => (j.nodes[0].mesh = undefined), /found no triangles; wanted at least one/],
    ['a list that is none', j => (j.nodes = {}), /nodes: found \{\}; wanted a list/],
  ]
  test.each(cases)('%s', async (_, change, said) => {
    expect(await refusal(gltfText(change), 'a.gltf')).toMatch(said)
  })

  test('a vertex number that no vertex has, in a GLB', async () => {
    const bytes = glbBytes()
    bytes[bytes.length - 1] = 4
    expect(await refusal(bytes, 'a.glb')).toMatch(/meshes\[0\]: found vertex number 5; wanted at most 4/)
  })

  test('a GLB cut off anywhere', async () => {
    const whole = glbBytes()
    for (let length = 4; length < whole.length; length++)
      expect(await refusal(whole.subarray(0, length), 'a.glb'), `${length} bytes`).toMatch(
        /found .*; wanted /,
      )
  })

  test('a coordinate that is no number names part and vertex', async () => {
    const bytes = glbBytes()
    new DataView(bytes.buffer).setFloat32(bytes.length - 60 + 12, Number.NaN, true)
    expect(await refusal(bytes, 'a.glb')).toBe(
      'part "Wedge", vertex 2: found coordinate NaN; wanted a finite number',
    )
  })

  test('more triangles than are taken, before memory is asked for any', async () => {
    const many = gltfText(json => {
      json['accessors'][1].count = 12_000_000
      json['nodes'] = [{ children: [1, 2] }, { mesh: 0 }, { mesh: 0 }]
    })
    expect(await refusal(many, 'a.gltf')).toBe(
      'the file: found 8,000,000 triangles; wanted at most 4,000,000',
    )
  })
})
