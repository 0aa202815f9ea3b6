import { gatherParts, leftOutNotes, type ModelNode, turnOver } from './gatherParts.ts'
import { type Accessors, accessorsOf, unsupported } from './gltfAccessor.ts'
import { gltfFile, type Json, listAt, objectAt, textAt, wholeAt } from './gltfFile.ts'
import { composed, localMatrix, type Matrix, NO_MOVE } from './gltfMatrix.ts'
import { checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { Tell } from './readOptions.ts'

/** Extensions that change nothing of where surfaces are, or that are read: a file may need them. */
const HARMLESS =
  /^(KHR_mesh_quantization|KHR_materials_\w+|KHR_texture_\w+|EXT_texture_\w+|KHR_lights_punctual|KHR_xmp\w*)$/

/** What `mode` of a primitive stands for (section 5.24.4). */
const MODE = { points: 0, lines: 1, lineLoop: 2, lineStrip: 3, triangles: 4, strip: 5, fan: 6 } as const
const DEEPEST = 200

/**
 * Reads a glTF 2.0 file, .glb or .gltf with its data inside. By the specification its unit is the metre and +y is up
 * (section 3.4, Coordinate System and Units).
 *
 * @throws ModelError see `readModel`.
 */
export function readGltf(bytes: Uint8Array, tell: Tell): ReadModel {
  const file = gltfFile(bytes)
  const { json } = file
  for (const name of listAt(json['extensionsRequired'], 'extensionsRequired'))
    if (!HARMLESS.test(textAt(name))) throw unsupported(textAt(name))
  const nodes = listAt(json['nodes'], 'nodes').map((n, i) => objectAt(n, `nodes[${i}]`))
  const meshes = listAt(json['meshes'], 'meshes').map((m, i) => objectAt(m, `meshes[${i}]`))
  const accessors = accessorsOf(file)
  const notes: string[] = []
  const roots = rootsOf(json, nodes, notes)
  countTriangles(nodes, meshes, roots, accessors)

  const counts = { lines: 0, points: 0 }
  let done = 0
  const nodeOf = (at: number, above: Matrix): ModelNode => {
    const node = nodes[at]!
    const place = `nodes[${at}]`
    const move = composed(above, localMatrix(node, place))
    const extensions = node['extensions'] === undefined ? {} : objectAt(node['extensions'], place)
    if ('EXT_mesh_gpu_instancing' in extensions) throw unsupported('EXT_mesh_gpu_instancing')
    const meshAt =
      node['mesh'] === undefined ? null : wholeAt(node['mesh'], `${place}.mesh`, meshes.length - 1)
    const mesh = meshAt === null ? null : meshes[meshAt]!
    const read = mesh && readMesh(mesh, `meshes[${meshAt}]`, move, accessors, counts)
    tell('Reading triangles', ++done / nodes.length)
    return {
      name: textAt(node['name']) || (mesh ? textAt(mesh['name']) : ''),
      mesh: read,
      children: childrenOf(node).map(child => nodeOf(child, move)),
    }
  }
  const { parts, flat } = gatherParts(roots.map(at => nodeOf(at, NO_MOVE)))
  const moving = nodes.filter(n => n['skin'] !== undefined).length
  if (moving > 0)
    notes.push(`${moving} ${moving === 1 ? 'part moves' : 'parts move'} with a skeleton: taken as modelled.`)
  if (
    meshes.some(m => listAt(m['primitives'], 'primitives').some(p => objectAt(p, 'a primitive')['targets']))
  )
    notes.push('Some parts can change their shape: taken as modelled.')
  return {
    format: 'gltf',
    unitMm: 1000,
    up: 'y',
    parts,
    notes: [...notes, ...leftOutNotes({ flat, ...counts })],
  }
}

const childrenOf = (node: Json): readonly number[] =>
  listAt(node['children'], 'children') as readonly number[]

/** The nodes at the top of the scene to show. Every node is in it once: rings and shared children are refused. */
function rootsOf(json: Json, nodes: readonly Json[], notes: string[]): readonly number[] {
  const parent = new Map<number, number>()
  nodes.forEach((node, i) => {
    listAt(node['children'], `nodes[${i}].children`).forEach(c => {
      const child = wholeAt(c, `nodes[${i}].children`, nodes.length - 1)
      if (parent.has(child))
        throw new ModelError(
          `nodes[${i}].children: found node ${child}, which nodes[${parent.get(child)}] has too; wanted each once`,
        )
      parent.set(child, i)
    })
  })
  const scenes = listAt(json['scenes'], 'scenes')
  let roots: readonly number[]
  if (scenes.length === 0) roots = nodes.map((_, i) => i).filter(i => !parent.has(i))
  else {
    const shown = wholeAt(json['scene'], 'scene', scenes.length - 1, 0)
    const listed = listAt(objectAt(scenes[shown], `scenes[${shown}]`)['nodes'], `scenes[${shown}].nodes`)
    roots = listed.map(n => wholeAt(n, `scenes[${shown}].nodes`, nodes.length - 1))
    if (scenes.length > 1) notes.push(`The file has ${scenes.length} scenes: number ${shown + 1} is read.`)
  }
  const seen = new Set<number>()
  const open = roots.map(at => ({ at, depth: 1 }))
  while (open.length > 0) {
    const { at, depth } = open.pop()!
    if (seen.has(at))
      throw new ModelError(`nodes[${at}]: found it below itself or twice in a scene; wanted a tree`)
    if (depth > DEEPEST) throw new ModelError(`nodes[${at}]: found more than ${DEEPEST} levels; wanted fewer`)
    seen.add(at)
    for (const child of childrenOf(nodes[at]!)) open.push({ at: child, depth: depth + 1 })
  }
  return roots
}

/** Refuses too many triangles before any is read: a mesh counts as often as nodes show it. */
function countTriangles(
  nodes: readonly Json[],
  meshes: readonly Json[],
  roots: readonly number[],
  accessors: Accessors,
): void {
  const each = meshes.map((mesh, m) => {
    let triangles = 0
    listAt(mesh['primitives'], `meshes[${m}].primitives`).forEach((p, i) => {
      const place = `meshes[${m}].primitives[${i}]`
      const primitive = objectAt(p, place)
      const mode = wholeAt(primitive['mode'], `${place}.mode`, MODE.fan, MODE.triangles)
      if (mode < MODE.triangles) return
      const corners =
        primitive['indices'] === undefined
          ? accessors.count(
              objectAt(primitive['attributes'], `${place}.attributes`)['POSITION'],
              `${place}.POSITION`,
            )
          : accessors.count(primitive['indices'], `${place}.indices`)
      triangles += mode === MODE.triangles ? corners / 3 : Math.max(corners - 2, 0)
    })
    return triangles
  })
  let total = 0
  const open = [...roots]
  while (open.length > 0) {
    const at = open.pop()!
    const node = nodes[at]!
    if (node['mesh'] !== undefined)
      total += each[wholeAt(node['mesh'], `nodes[${at}].mesh`, meshes.length - 1)]!
    checkTriangles('the file', Math.ceil(total))
    open.push(...childrenOf(node))
  }
}

function readMesh(
  mesh: Json,
  place: string,
  move: Matrix,
  accessors: Accessors,
  counts: { lines: number; points: number },
): ModelNode['mesh'] {
  const pieces = listAt(mesh['primitives'], place).flatMap((p, i) => {
    const at = `${place}.primitives[${i}]`
    const primitive = objectAt(p, at)
    const mode = wholeAt(primitive['mode'], `${at}.mode`, MODE.fan, MODE.triangles)
    const attributes = objectAt(primitive['attributes'], `${at}.attributes`)
    if (attributes['POSITION'] === undefined) return []
    const extensions = primitive['extensions'] === undefined ? {} : objectAt(primitive['extensions'], at)
    if ('KHR_draco_mesh_compression' in extensions) throw unsupported('KHR_draco_mesh_compression')
    const vertices = accessors.count(attributes['POSITION'], `${at}.attributes.POSITION`)
    const used =
      primitive['indices'] === undefined ? vertices : accessors.count(primitive['indices'], `${at}.indices`)
    if (mode === MODE.points) counts.points += used
    else if (mode < MODE.triangles) counts.lines += mode === MODE.lines ? used >> 1 : Math.max(used - 1, 0)
    if (mode < MODE.triangles) return []
    if (mode === MODE.triangles && used % 3 !== 0)
      throw new ModelError(`${at}: found ${used} corners; wanted three a triangle`)
    const positions = accessors.numbers(attributes['POSITION'], `${at}.attributes.POSITION`, 'VEC3')
    const order =
      primitive['indices'] === undefined
        ? Float64Array.from({ length: vertices }, (_, k) => k)
        : accessors.numbers(primitive['indices'], `${at}.indices`, 'SCALAR')
    return [{ positions, corners: cornersOf(order, mode) }]
  })
  if (pieces.length === 0) return null
  const positions = new Float64Array(pieces.reduce((n, p) => n + p.positions.length, 0))
  const indices = new Uint32Array(pieces.reduce((n, p) => n + p.corners.length, 0))
  let vertex = 0
  let corner = 0
  for (const piece of pieces) {
    positions.set(piece.positions, 3 * vertex)
    const most = piece.positions.length / 3
    for (const c of piece.corners) {
      if (!(c < most)) throw new ModelError(`${place}: found vertex number ${c + 1}; wanted at most ${most}`)
      indices[corner++] = vertex + c
    }
    vertex += most
  }
  move.apply(positions)
  if (move.mirrors) turnOver(indices)
  return { positions, indices }
}

/** Three corners a triangle, all the same way round (section 3.7.2.1 for strips and fans). */
function cornersOf(order: Float64Array, mode: number): Float64Array {
  if (mode === MODE.triangles) return order
  const n = Math.max(order.length - 2, 0)
  const out = new Float64Array(3 * n)
  for (let i = 0; i < n; i++) {
    const [a, b, c] =
      mode === MODE.fan ? [i + 1, i + 2, 0] : i % 2 === 0 ? [i, i + 1, i + 2] : [i, i + 2, i + 1]
    out[3 * i] = order[a]!
    out[3 * i + 1] = order[b]!
    out[3 * i + 2] = order[c]!
  }
  return out
}
