import { gatherParts, leftOutNotes, type ModelNode } from './gatherParts.ts'
import { checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { Tell } from './readOptions.ts'
import { NumberList, numberIn, textLines } from './textLines.ts'
import { triangulate } from './triangulate.ts'

const BODY = 'body'

/** Statements that say nothing about where surfaces are. */
const PASSED_OVER = new Set(
  'vt vn vp s mg usemtl mtllib usemap maplib bevel c_interp d_interp lod shadow_obj trace_obj ctech stech'.split(
    ' ',
  ),
)
/** Statements of free-form geometry, which is not read. */
const FREE_FORM = new Set(
  'cstype deg bmat step curv curv2 surf parm trim hole scrv sp con end call csh'.split(' '),
)

/** Faces of one object and group. */
interface Group {
  readonly object: string | null
  readonly group: string | null
  /** Vertex numbers, three a triangle, from 0. */
  readonly corners: number[]
}

/**
 * Reads the polygons of an OBJ file: a part for each object and each group in it. It names neither unit nor axes.
 *
 * @throws ModelError naming the line, what was found and what was wanted there.
 */
export function readObj(bytes: Uint8Array, tell: Tell): ReadModel {
  const vertices = new NumberList()
  const groups = new Map<string, Group>()
  let object: string | null = null
  let group: string | null = null
  let current: Group | null = null
  let lines = 0
  let points = 0
  let triangles = 0
  let number = 0
  let held = ''
  const statement = (text: string): void => {
    const words = text.split(/\s+/)
    const [word] = words
    switch (word) {
      case 'v': {
        const [x, y, z] = [1, 2, 3].map(k => numberIn(words[k] ?? ''))
        if (Number.isNaN(x! + y! + z!))
          throw new ModelError(
            `line ${number}: found "${text.slice(0, 60)}"; wanted v and three finite coordinates`,
          )
        vertices.push3(x!, y!, z!)
        return
      }
      case 'f':
      case 'fo': {
        const corners = words.slice(1).map(w => vertexNumber(w, vertices.length / 3, number))
        if (corners.length < 3)
          throw new ModelError(`line ${number}: found a face of ${corners.length} corners; wanted at least 3`)
        current ??= groupOf(groups, object, group)
        for (const k of triangulate(vertices.view(), corners)) current.corners.push(corners[k]!)
        triangles += corners.length - 2
        checkTriangles(`line ${number}`, triangles)
        return
      }
      case 'o':
        object = words.slice(1).join(' ')
        group = null
        current = null
        return
      case 'g':
        group = words.slice(1).join(' ') || null
        current = null
        return
      case 'l':
        lines++
        return
      case 'p':
        points += words.length - 1
        return
    }
    if (FREE_FORM.has(word!))
      throw new ModelError(
        `line ${number}: found "${word}", free-form geometry; wanted polygons (f): write the file as a mesh`,
      )
    if (!PASSED_OVER.has(word!))
      throw new ModelError(`line ${number}: found "${word!.slice(0, 40)}"; wanted a statement of an OBJ file`)
  }
  for (const line of textLines(bytes, done => tell('Reading polygons', done))) {
    number++
    const text = line.replace(/^\uFEFF/, '').replace(/#.*$/, '')
    if (text.endsWith('\\')) {
      held += `${text.slice(0, -1)} `
      continue
    }
    const whole = (held + text).trim()
    held = ''
    if (whole !== '') statement(whole)
  }
  if (held.trim() !== '')
    throw new ModelError(`line ${number}: found the end of the file; wanted the line that "\\" says goes on`)
  const { parts, flat } = gatherParts(nodesOf(groups, vertices))
  return { format: 'obj', unitMm: null, up: null, parts, notes: leftOutNotes({ flat, lines, points }) }
}

/** Vertex number from 0, of a corner such as 3, 3/1, 3//2 or −1. */
function vertexNumber(word: string, have: number, line: number): number {
  const slash = word.indexOf('/')
  const value = numberIn(slash < 0 ? word : word.slice(0, slash))
  const at = value < 0 ? have + value : value - 1
  if (Number.isInteger(value) && at >= 0 && at < have) return at
  throw new ModelError(
    `line ${line}: found corner "${word.slice(0, 40)}"; wanted one of the ${have} vertices so far, from 1 or from −1 back`,
  )
}

function groupOf(groups: Map<string, Group>, object: string | null, group: string | null): Group {
  const key = JSON.stringify([object, group])
  const known = groups.get(key) ?? { object, group, corners: [] }
  groups.set(key, known)
  return known
}

function nodesOf(groups: ReadonlyMap<string, Group>, vertices: NumberList): ModelNode[] {
  const top: ModelNode[] = []
  const objects = new Map<string, { name: string; mesh: ModelNode['mesh']; children: ModelNode[] }>()
  for (const { object, group, corners } of groups.values()) {
    const mesh = ownVertices(corners, vertices)
    if (object === null) {
      top.push({ name: group ?? BODY, mesh, children: [] })
      continue
    }
    let node = objects.get(object)
    if (!node) {
      node = { name: object, mesh: null, children: [] }
      objects.set(object, node)
      top.push(node)
    }
    if (group === null) node.mesh = mesh
    else node.children.push({ name: group, mesh, children: [] })
  }
  return top
}

/** The faces with just the vertices that they use: a file's vertices are one list for all its parts. */
function ownVertices(corners: readonly number[], vertices: NumberList): ModelNode['mesh'] {
  const own = new Map<number, number>()
  const indices = new Uint32Array(corners.length)
  corners.forEach((vertex, i) => {
    const at = own.get(vertex) ?? own.size
    own.set(vertex, at)
    indices[i] = at
  })
  const positions = new Float64Array(3 * own.size)
  for (const [vertex, at] of own)
    for (let k = 0; k < 3; k++) positions[3 * at + k] = vertices.at(3 * vertex + k)
  return { positions, indices }
}
