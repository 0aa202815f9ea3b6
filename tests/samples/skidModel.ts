import { createHash } from 'node:crypto'
import { Document, type Node, WebIO } from '@gltf-transform/core'
import type { Vec3 } from '../../src/geometry/vec3.ts'

export const SKID_MODEL = 'feed-pump-skid.glb'

/** Sides of what is round: within half a millimetre of round on the tank. */
const SIDES = 64

interface Surface {
  readonly corners: Vec3[]
  readonly triangles: number[]
}

/** A box between two corners, skid frame, mm. */
function box(low: Vec3, high: Vec3): Surface {
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map(
    (i): Vec3 => [i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]],
  )
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const
  return { corners, triangles: faces.flatMap(([a, b, c, d]) => [a, b, c, a, c, d]) }
}

/**
 * What a profile sweeps about an axis through `at`: pairs of radius and height along the axis, from bottom to top,
 * both ends on the axis.
 */
function turned(at: Vec3, axis: 'x' | 'z', profile: readonly (readonly [number, number])[]): Surface {
  const place = (radius: number, along: number, angle: number): Vec3 => {
    const u = radius * Math.cos(angle)
    const v = radius * Math.sin(angle)
    return axis === 'z' ? [at[0] + u, at[1] + v, at[2] + along] : [at[0] + along, at[1] + u, at[2] + v]
  }
  const corners: Vec3[] = [place(0, profile[0]![1], 0)]
  const rings = profile.filter(([radius]) => radius > 0)
  for (const [radius, along] of rings)
    for (let i = 0; i < SIDES; i++) corners.push(place(radius, along, (2 * Math.PI * i) / SIDES))
  const last = corners.push(place(0, profile.at(-1)![1], 0)) - 1
  const on = (ring: number, i: number) => 1 + ring * SIDES + (i % SIDES)
  const triangles: number[] = []
  for (let i = 0; i < SIDES; i++) {
    triangles.push(0, on(0, i + 1), on(0, i))
    for (let ring = 0; ring + 1 < rings.length; ring++) {
      const [a, b, c, d] = [on(ring, i), on(ring, i + 1), on(ring + 1, i), on(ring + 1, i + 1)]
      triangles.push(a, b, d, a, d, c)
    }
    triangles.push(last, on(rings.length - 1, i), on(rings.length - 1, i + 1))
  }
  return { corners, triangles }
}

const drum = (at: Vec3, axis: 'x' | 'z', length: number, radius: number): Surface =>
  turned(at, axis, [
    [0, -length / 2],
    [radius, -length / 2],
    [radius, length / 2],
    [0, length / 2],
  ])

/** A vessel of this radius with half-ellipsoid ends, 2 : 1, `straight` from seam to seam. */
function vessel(at: Vec3, straight: number, radius: number): Surface {
  const rise = (k: number) => (k * Math.PI) / 16
  const end = [1, 2, 3, 4, 5, 6, 7, 8].map(k => [radius * Math.sin(rise(k)), rise(k)] as const)
  const depth = (angle: number) => (radius / 2) * Math.cos(angle)
  return turned(at, 'z', [
    [0, -straight / 2 - radius / 2],
    ...end.map(([r, angle]) => [r, -straight / 2 - depth(angle)] as const),
    ...end.toReversed().map(([r, angle]) => [r, straight / 2 + depth(angle)] as const),
    [0, straight / 2 + radius / 2],
  ])
}

function together(...surfaces: readonly Surface[]): Surface {
  const corners: Vec3[] = []
  const triangles: number[] = []
  for (const one of surfaces) {
    triangles.push(...one.triangles.map(i => i + corners.length))
    corners.push(...one.corners)
  }
  return { corners, triangles }
}

/** What is inside what; a name is what a person reads in the tree of parts. Skid frame, mm. Everything invented. */
const TREE: Readonly<Record<string, Readonly<Record<string, Surface>>>> = {
  'Base frame': {
    'Front rail': box([0, 0, 0], [2400, 100, 120]),
    'Rear rail': box([0, 1100, 0], [2400, 1200, 120]),
    'Cross members': together(...[0, 770, 1540, 2300].map(x => box([x, 100, 10], [x + 100, 1100, 110]))),
    'Deck plate': box([10, 10, 120], [2390, 1190, 128]),
  },
  'Mixing tank': {
    Shell: vessel([500, 600, 1050], 900, 350),
    Legs: together(
      ...(
        [
          [290, 390],
          [710, 390],
          [290, 810],
          [710, 810],
        ] as const
      ).map(([x, y]) => drum([x, y, 414], 'z', 572, 30)),
    ),
    Agitator: together(drum([500, 600, 1720], 'z', 130, 60), drum([500, 600, 1885], 'z', 200, 90)),
  },
  'Pump set': {
    Bedplate: box([1270, 240, 128], [2060, 460, 190]),
    Pump: together(drum([1400, 350, 340], 'x', 120, 140), drum([1300, 350, 340], 'x', 80, 45)),
    'Coupling guard': box([1470, 270, 240], [1650, 430, 440]),
    Motor: together(drum([1840, 350, 340], 'x', 380, 120), box([1760, 320, 455], [1900, 380, 530])),
  },
  Ladder: {
    Stiles: together(box([60, 440, 128], [90, 460, 2000]), box([60, 740, 128], [90, 760, 2000])),
    Rungs: together(...[0, 1, 2, 3, 4, 5].map(n => box([65, 460, 395 + 280 * n], [85, 740, 415 + 280 * n]))),
  },
  'Lifting gear': {
    'Transport lugs': together(
      ...(
        [
          [60, 40],
          [2310, 40],
          [60, 1140],
          [2310, 1140],
        ] as const
      ).map(([x, y]) => box([x, y, 128], [x + 30, y + 20, 230])),
    ),
  },
}

/** The bytes of the model: binary glTF, so metres and +y up; skid (x, y, z) mm is (x, z, −y)/1000. */
export async function skidModel(): Promise<Uint8Array<ArrayBuffer>> {
  const made = new Document()
  made.getRoot().getAsset().generator = 'Dogleg’s samples; an invented skid'
  const buffer = made.createBuffer()
  const top = made.createNode('Feed-pump skid')
  made.createScene('Skid').addChild(top)
  const below = (parent: Node, name: string): Node => {
    const node = made.createNode(name)
    parent.addChild(node)
    return node
  }
  for (const [group, members] of Object.entries(TREE)) {
    const node = below(top, group)
    for (const [name, { corners, triangles }] of Object.entries(members)) {
      const points = Float32Array.from(corners.flatMap(([x, y, z]) => [x / 1000, z / 1000, -y / 1000]))
      const primitive = made
        .createPrimitive()
        .setAttribute('POSITION', made.createAccessor().setType('VEC3').setArray(points).setBuffer(buffer))
        .setIndices(
          made.createAccessor().setType('SCALAR').setArray(Uint16Array.from(triangles)).setBuffer(buffer),
        )
      below(node, name).setMesh(made.createMesh(name).addPrimitive(primitive))
    }
  }
  return new Uint8Array(await new WebIO().writeBinary(made))
}

/** What a document says of the model's file: its length and what it is known again by. */
export async function skidModelEntry() {
  const bytes = await skidModel()
  return {
    fileName: SKID_MODEL,
    bytes: bytes.length,
    hash: createHash('sha256').update(bytes).digest('hex'),
    format: 'gltf',
    unitMm: 1000,
    up: 'y',
  } as const
}
