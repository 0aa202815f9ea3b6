import { Document, NodeIO, type Node as SceneNode } from '@gltf-transform/core'

type Vec = readonly [number, number, number]
/** A named box between two corners, mm, +z up. */
type NamedBox = readonly [name: string, low: Vec, high: Vec]

const FRAME: readonly NamedBox[] = [
  ['Post, left front', [0, 60, 0], [40, 100, 620]],
  ['Post, right front', [900, 60, 0], [940, 100, 620]],
  ['Post, left back', [0, 600, 0], [40, 640, 620]],
  ['Post, right back', [900, 600, 0], [940, 640, 620]],
  ['Rail, front', [40, 60, 580], [900, 100, 620]],
  ['Rail, back', [40, 600, 580], [900, 640, 620]],
  ['Rail, left', [0, 100, 580], [40, 600, 620]],
  ['Rail, right', [900, 100, 580], [940, 600, 620]],
]
/** Its wall stands 8.37 mm from the tube of the first sample, which runs at y = 200, z = 700 and is 12 mm thick. */
const TRAY: readonly NamedBox[] = [
  ['Wall', [180, 214.37, 640], [330, 217, 720]],
  ['Bottom', [180, 217, 640], [330, 277, 643]],
  ['Far wall', [180, 277, 640], [330, 280, 720]],
]
const INSTRUMENTS: readonly NamedBox[] = [
  ['Junction box', [420, 100, 620], [560, 170, 760]],
  ['Lamp', [600, 70, 620], [640, 100, 680]],
  ['Gauge', [700, 70, 620], [760, 90, 700]],
]

/** The first sample's skid as a design office might hand it over: 14 parts in three groups, invented. */
export async function skidGlb(): Promise<Buffer> {
  const document = new Document()
  const buffer = document.createBuffer()
  const box = ([name, low, high]: NamedBox): SceneNode => {
    // glTF is in metres with +y up: (x, z, −y) of what has +z up. A node carries the place, its mesh the size.
    const place = [low[0] / 1000, low[2] / 1000, -low[1] / 1000] as [number, number, number]
    const [x, y, z] = [high[0] - low[0], high[2] - low[2], low[1] - high[1]].map(e => e / 1000) as [
      number,
      number,
      number,
    ]
    const corners = [0, 1, 2, 3, 4, 5, 6, 7].flatMap(i => [i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0])
    // Seen from outside counter-clockwise: the third edge points the other way, so the faces are turned round.
    const faces = [0, 1, 3, 0, 3, 2, 4, 6, 7, 4, 7, 5, 0, 4, 5, 0, 5, 1, 2, 3, 7, 2, 7, 6, 0, 2, 6, 0, 6, 4]
    faces.push(1, 5, 7, 1, 7, 3)
    const mesh = document.createMesh(name).addPrimitive(
      document
        .createPrimitive()
        .setAttribute(
          'POSITION',
          document.createAccessor().setType('VEC3').setArray(new Float32Array(corners)).setBuffer(buffer),
        )
        .setIndices(
          document.createAccessor().setType('SCALAR').setArray(new Uint16Array(faces)).setBuffer(buffer),
        ),
    )
    return document.createNode(name).setMesh(mesh).setTranslation(place)
  }
  const group = (name: string, boxes: readonly NamedBox[]) => {
    const node = document.createNode(name)
    for (const one of boxes) node.addChild(box(one))
    return node
  }
  const top = document.createNode('Aeration skid')
  for (const child of [group('Frame', FRAME), group('Cable tray', TRAY), group('Instruments', INSTRUMENTS)])
    top.addChild(child)
  document.createScene('Skid').addChild(top)
  return Buffer.from(await new NodeIO().writeBinary(document))
}

/** A bumpy sheet of triangles as a binary STL: 2 · across · along of them, `step` units wide each, about z = `height`. */
export function sheetStl(across: number, along: number, step: number, height: number): Buffer {
  const out = Buffer.alloc(84 + 50 * 2 * across * along)
  out.writeUInt32LE(2 * across * along, 80)
  const z = (i: number, j: number) => height + 4 * step * Math.sin(i / 9) * Math.cos(j / 7)
  let at = 84
  const facet = (corners: readonly (readonly [number, number])[]) => {
    at += 12
    for (const [i, j] of corners) {
      out.writeFloatLE(i * step, at)
      out.writeFloatLE(j * step, at + 4)
      out.writeFloatLE(z(i, j), at + 8)
      at += 12
    }
    at += 2
  }
  for (let i = 0; i < across; i++)
    for (let j = 0; j < along; j++) {
      facet([
        [i, j],
        [i + 1, j],
        [i + 1, j + 1],
      ])
      facet([
        [i, j],
        [i + 1, j + 1],
        [i, j + 1],
      ])
    }
  return out
}
