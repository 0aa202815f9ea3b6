import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { cadKernel } from '../../cadKernel.ts'
import { type Random, seeded } from '../../random.ts'
import { stepOf } from './cadStep.ts'
import { glbBytes, gltfText } from './gltfMade.ts'
import { readHere } from './readHere.ts'

const SEED = 31337

/** The bytes with some changed, cut, doubled or strewn with numbers; short texts get the same as long binaries. */
function damaged(random: Random, bytes: Uint8Array): Uint8Array {
  let out = new Uint8Array(bytes)
  const times = random.whole(1, 4)
  for (let k = 0; k < times; k++) {
    const at = random.whole(0, Math.max(out.length - 1, 0))
    switch (random.whole(0, 5)) {
      case 0:
        out[at] = random.whole(0, 255)
        break
      case 1:
        out[at] = 48 + random.whole(0, 9)
        break
      case 2:
        out = out.slice(0, at)
        break
      case 3: {
        const to = Math.min(at + random.whole(1, 60), out.length)
        out = Uint8Array.from([...out.subarray(0, at), ...out.subarray(to)])
        break
      }
      case 4: {
        const piece = out.subarray(at, at + random.whole(1, 60))
        out = Uint8Array.from([...out.subarray(0, at), ...piece, ...out.subarray(at)])
        break
      }
      default: {
        const word = random.whole(0, 1) ? [255, 255, 255, 127] : [0, 0, 192, 127]
        out.set(word.slice(0, Math.max(out.length - at, 0)), at)
      }
    }
  }
  return out
}

/** Read or refused with place, found and wanted; anything else is the test's failure. Gives which. */
async function tried(bytes: Uint8Array, name: string, what: string): Promise<boolean> {
  try {
    const { parts } = await readHere(bytes, name)
    expect(parts.length, what).toBeGreaterThan(0)
    expect(new Set(parts.map(p => p.key)).size, what).toBe(parts.length)
    for (const { positions, indices, names } of parts) {
      expect(names.length, what).toBeGreaterThan(0)
      expect(indices.length % 3, what).toBe(0)
      expect(
        indices.every(i => i < positions.length / 3),
        what,
      ).toBe(true)
      expect(positions.every(Number.isFinite), what).toBe(true)
    }
    return true
  } catch (error) {
    if (!(error instanceof Error && error.name === 'ModelError')) throw new Error(what, { cause: error })
    expect(error.message, what).toMatch(/found [\s\S]*wanted /)
    return false
  }
}

const STL_TEXT =
  'solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1.5 0 0\nvertex 0 2 1e1\nendloop\nendfacet\nendsolid a\n'
const OBJ = 'o A\nv 0 0 0\nv 1 0 0\nv 1 1 0.5\nv 0 1 0\ng B\nf 1 2 3 4\ng C\nf -1/1 -2//1 -3\nl 1 2\n'
const STL_BINARY = (() => {
  const data = new DataView(new ArrayBuffer(84 + 100))
  data.setUint32(80, 2, true)
  for (let k = 0; k < 9; k++) {
    data.setFloat32(96 + 4 * k, (k * k) % 7, true)
    data.setFloat32(146 + 4 * k, (k * k) % 5, true)
  }
  return new Uint8Array(data.buffer)
})()
const SAMPLE = new Uint8Array(
  readFileSync(new URL('../../../sample-routes/feed-pump-skid.glb', import.meta.url)),
)
const text = (s: string) => new TextEncoder().encode(s)

test.each([
  ['a.gltf', text(gltfText()), 400],
  ['a.glb', glbBytes(), 400],
  ['text.stl', text(STL_TEXT), 400],
  ['binary.stl', STL_BINARY, 400],
  ['a.obj', text(OBJ), 400],
  ['sample.glb', SAMPLE, 40],
])(
  `%s damaged anyhow is read soundly or refused with a reason (seed ${SEED})`,
  async (name, bytes, times) => {
    const random = seeded(SEED)
    expect(await tried(bytes, name, `${name} whole`)).toBe(true)
    let refused = 0
    for (let k = 0; k < times; k++)
      if (!(await tried(damaged(random, bytes), name, `${name} ${k}`))) refused++
    expect(refused).toBeGreaterThan(times / 10)
  },
)

test(`a STEP file damaged anyhow is read soundly or refused with a reason (seed ${SEED})`, async () => {
  const oc = await cadKernel()
  const box = new oc.BRepPrimAPI_MakeBox(100, 50, 20).Shape()
  const rod = new oc.BRepPrimAPI_MakeCylinder(15, 80).Shape()
  const whole = stepOf(oc, 'Skid', [
    { name: 'Base', shape: box },
    { name: 'Rod', shape: rod, shift: [0, 0, 20] },
  ])
  expect(await tried(whole, 'a.step', 'whole')).toBe(true)
  const random = seeded(SEED)
  let refused = 0
  for (let k = 0; k < 24; k++) {
    let bytes = damaged(random, whole)
    // Most files that are cut off are refused by their missing end: every second one is given it again.
    if (k % 2 === 0) bytes = Uint8Array.from([...bytes, ...text('\nEND-ISO-10303-21;\n')])
    if (!(await tried(bytes, 'a.step', `step ${k}`))) refused++
  }
  expect(refused).toBeGreaterThan(2)
})
