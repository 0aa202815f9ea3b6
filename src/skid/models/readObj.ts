import { ByteWords } from './byteWords.ts'
import { gatherParts, leftOutNotes, type ModelNode } from './gatherParts.ts'
import { checkTriangles } from './limits.ts'
import { ModelError } from './modelError.ts'
import type { ReadModel } from './modelTypes.ts'
import type { Tell } from './readOptions.ts'
import { LONGEST, NumberList, numberIn, PlaceList } from './textLines.ts'
import { isPlainQuad, triangulate } from './triangulate.ts'

const BODY = 'body'

/** Statements that say nothing about where surfaces are. */
const PASSED_OVER = new Set(
  [
    'vt vn vp s mg usemtl mtllib usemap maplib bevel c_interp d_interp lod shadow_obj trace_obj ctech stech',
    // What a file of materials says; some programs write it into the same file.
    'newmtl Ka Kd Ks Ke Kt Km Tf Tr Ns Ni Nr d illum sharpness bump disp decal refl norm Pr Pm Ps Pc Pcr aniso anisor',
    'map_Ka map_Kd map_Ks map_Ke map_Kt map_Ns map_d map_Tr map_Bump map_bump map_disp map_aat map_Pr map_Pm map_Ps',
  ].flatMap(words => words.split(' ')),
)
/** Statements of free-form geometry, which is not read. */
const FREE_FORM = new Set(
  'cstype deg bmat step curv curv2 surf parm trim hole scrv sp con end call csh'.split(' '),
)

const [LF, CR, BACKSLASH, F, V] = [10, 13, 92, 102, 118]
const isBlank = (byte: number | undefined) => byte === 32 || byte === 9
const isMarked = (bytes: Uint8Array) => bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf
/** Bytes from one word of progress to the next. */
const PROGRESS = 1 << 20

/** Faces of one object and group. */
interface Group {
  readonly object: string | null
  readonly group: string | null
  /** Vertex numbers, three a triangle, from 0. */
  readonly corners: PlaceList
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
  const words = new ByteWords(bytes)
  const corners: number[] = []
  /** The many lines of a vertex or a face, without a text of each; false when `statement` has to see to it. */
  const plain = (): boolean => {
    const first = bytes[words.at]!
    if ((first !== V && first !== F) || !isBlank(bytes[words.at + 1])) return false
    words.at += 2
    if (first === V) {
      const x = words.number()
      const y = words.number()
      const z = words.number()
      if (Number.isNaN(x + y + z)) return false
      vertices.push3(x, y, z)
      return true
    }
    const have = vertices.length / 3
    corners.length = 0
    while (words.toWord()) {
      const place = words.place()
      const at = place < 0 ? have + place : place - 1
      if (!(at >= 0 && at < have)) return false
      corners.push(at)
    }
    const n = corners.length
    if (n < 3) return false
    current ??= groupOf(groups, object, group)
    const into = current.corners
    const [a, b, c, d] = corners as [number, number, number, number]
    if (n === 3 || (n === 4 && isPlainQuad(vertices.all, a, b, c, d))) {
      into.push(a)
      into.push(b)
      into.push(c)
      if (n === 4) {
        into.push(a)
        into.push(c)
        into.push(d)
      }
    } else for (const k of triangulate(vertices.view(), corners)) into.push(corners[k]!)
    triangles += n - 2
    checkTriangles(`line ${number}`, triangles)
    return true
  }
  let next = isMarked(bytes) ? 3 : 0
  for (let told = 0; next < bytes.length; ) {
    if (next >= told) {
      tell('Reading polygons', next / bytes.length)
      told = next + PROGRESS
    }
    const from = next
    let end = from
    while (end < bytes.length && bytes[end] !== LF && bytes[end] !== CR) end++
    next = end + (bytes[end] === CR && bytes[end + 1] === LF ? 2 : 1)
    number++
    if (end - from > LONGEST)
      throw new ModelError(`line ${number}: found more than ${LONGEST} characters; wanted a text`)
    words.at = from
    words.end = end
    const goesOn = bytes[end - 1] === BACKSLASH && end > from
    if (held === '' && !goesOn && (!words.toWord() || plain())) continue
    const text = words.textOf(from, end).replace(/#.*$/, '')
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
  const known = groups.get(key) ?? { object, group, corners: new PlaceList() }
  groups.set(key, known)
  return known
}

function nodesOf(groups: ReadonlyMap<string, Group>, vertices: NumberList): ModelNode[] {
  const top: ModelNode[] = []
  /** Place of each vertex in the part that is made, from 1; 0: not in it. Cleared behind every part. */
  const own = new Uint32Array(vertices.length / 3)
  const objects = new Map<string, { name: string; mesh: ModelNode['mesh']; children: ModelNode[] }>()
  for (const { object, group, corners } of groups.values()) {
    const mesh = ownVertices(corners.view(), vertices, own)
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
function ownVertices(corners: Uint32Array, vertices: NumberList, own: Uint32Array): ModelNode['mesh'] {
  const indices = new Uint32Array(corners.length)
  const used = new PlaceList()
  for (let i = 0; i < corners.length; i++) {
    const vertex = corners[i]!
    if (own[vertex] === 0) {
      used.push(vertex)
      own[vertex] = used.length
    }
    indices[i] = own[vertex]! - 1
  }
  const positions = new Float64Array(3 * used.length)
  const list = used.view()
  for (let at = 0; at < list.length; at++) {
    own[list[at]!] = 0
    for (let k = 0; k < 3; k++) positions[3 * at + k] = vertices.at(3 * list[at]! + k)
  }
  return { positions, indices }
}
