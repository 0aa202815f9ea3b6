import { BufferAttribute, BufferGeometry, type Color, Group, type Material, Mesh } from 'three'
import type { SolvedRoute } from '../../solve/types.ts'
import { type TubeDetail, tubeMesh } from './tubeGeometry.ts'

/** A tube of many, as it is to be drawn now. */
export interface BatchTube {
  readonly id: string
  readonly route: SolvedRoute
  readonly od: number
  /** 0 for a bar without a bore: far off nobody looks into a tube. */
  readonly wall: number
  readonly shown: boolean
  /** The same objects for as long as the colours are the same. */
  readonly straight: Color
  readonly bend: Color
}

/** Tubes that share a buffer: enough to save draw calls, few enough that one edit's buffer is made at once. */
const TOGETHER = 64

/** Where a tube lies in its chunk's buffers. */
interface Span {
  tube: BatchTube
  /** First position, and how many. */
  readonly at: number
  readonly count: number
  /** First of `triangles`, and how many. */
  readonly from: number
  readonly length: number
}

interface Chunk {
  wanted: readonly BatchTube[]
  /** What its buffers no longer are: the tubes themselves, those of them that are shown, their colours. */
  stale: { tubes: boolean; shown: boolean; colours: boolean }
  detail: TubeDetail | null
  spans: readonly Span[]
  /** Indices of all its tubes; what is drawn is a copy without the hidden ones. */
  triangles: Uint32Array
  /** 1 where a position belongs to a bend. */
  bends: Uint8Array
  readonly mesh: Mesh<BufferGeometry>
}

/**
 * Many tubes in few buffers, so that a skid of a thousand runs is drawn in a handful of calls, each left out when all
 * of it is out of the picture. A tube stays in the chunk it was given: an edit makes one chunk anew, a change of
 * colour or of what is hidden makes none.
 */
export class TubeBatch {
  readonly group = new Group()
  private material: Material | null = null
  private chunks: Chunk[] = []
  private readonly home = new Map<string, Chunk>()

  /** Says what is to be drawn. The picture follows as `work` is called. */
  set(tubes: readonly BatchTube[], detail: TubeDetail): void {
    const ids = new Set(tubes.map(t => t.id))
    for (const id of this.home.keys()) if (!ids.has(id)) this.home.delete(id)
    for (const [chunk, wanted] of this.housed(tubes)) {
      chunk.wanted = wanted
      compare(chunk, detail)
      if (wanted.length > 0) continue
      this.group.remove(chunk.mesh)
      chunk.mesh.geometry.dispose()
    }
    this.chunks = this.chunks.filter(c => c.wanted.length > 0)
  }

  /** Brings chunks up to date for about `ms`, one at least. Gives false while there is more to do. */
  work(ms: number): boolean {
    const until = performance.now() + ms
    let done = 0
    for (const chunk of this.chunks) {
      const { tubes, shown, colours } = chunk.stale
      if (!(tubes || shown || colours)) continue
      if (done++ > 0 && performance.now() >= until) return false
      if (tubes) build(chunk)
      if (tubes || shown) show(chunk)
      if (tubes || colours) paint(chunk)
      chunk.stale = { tubes: false, shown: false, colours: false }
    }
    return true
  }

  setMaterial(material: Material): void {
    this.material = material
    for (const { mesh } of this.chunks) mesh.material = material
  }

  dispose(): void {
    for (const { mesh } of this.chunks) mesh.geometry.dispose()
    this.group.clear()
    this.chunks = []
    this.home.clear()
  }

  /** The tubes by chunk: each where it was, a new one where there is room. */
  private housed(tubes: readonly BatchTube[]): ReadonlyMap<Chunk, BatchTube[]> {
    const members = new Map<Chunk, BatchTube[]>(this.chunks.map(c => [c, []]))
    const homeless = tubes.filter(tube => {
      const chunk = this.home.get(tube.id)
      if (chunk) members.get(chunk)!.push(tube)
      return !chunk
    })
    let roomy = [...members].filter(([, list]) => list.length < TOGETHER)
    for (const tube of homeless) {
      if (roomy[0] && roomy[0][1].length >= TOGETHER) roomy = roomy.slice(1)
      if (!roomy[0]) {
        roomy = [[this.born(), []]]
        members.set(...roomy[0]!)
      }
      const [chunk, list] = roomy[0]!
      list.push(tube)
      this.home.set(tube.id, chunk)
    }
    return members
  }

  private born(): Chunk {
    const mesh = new Mesh(new BufferGeometry(), this.material ?? undefined)
    mesh.visible = false
    this.group.add(mesh)
    const chunk: Chunk = {
      wanted: [],
      stale: { tubes: true, shown: true, colours: true },
      detail: null,
      spans: [],
      triangles: new Uint32Array(),
      bends: new Uint8Array(),
      mesh,
    }
    this.chunks.push(chunk)
    return chunk
  }
}

const sameTube = (a: BatchTube, b: BatchTube) => a.route === b.route && a.od === b.od && a.wall === b.wall

function compare(chunk: Chunk, detail: TubeDetail): void {
  const { wanted, spans } = chunk
  const tubes =
    chunk.detail !== detail ||
    wanted.length !== spans.length ||
    wanted.some((tube, i) => !sameTube(tube, spans[i]!.tube))
  const differ = (what: (a: BatchTube, b: BatchTube) => boolean) =>
    !tubes && wanted.some((tube, i) => what(tube, spans[i]!.tube))
  chunk.stale = {
    tubes,
    shown: differ((a, b) => a.shown !== b.shown),
    colours: differ((a, b) => a.straight !== b.straight || a.bend !== b.bend),
  }
  chunk.detail = detail
}

/** Makes positions and triangles of all the chunk's tubes; of those that it had before they are copied. */
function build(chunk: Chunk): void {
  const { geometry } = chunk.mesh
  const had = new Map(chunk.spans.map(span => [span.tube.route, span]))
  const sameDetail = geometry.userData['detail'] === chunk.detail
  const parts = chunk.wanted.map(tube => {
    const span = sameDetail ? had.get(tube.route) : undefined
    if (span && sameTube(span.tube, tube)) return copied(chunk, span)
    const { positions, normals, index, pieceOf } = tubeMesh(
      tube.route.pieces,
      tube.od,
      tube.wall,
      chunk.detail!,
    )
    const bends = Uint8Array.from(pieceOf, piece => (tube.route.pieces[piece]?.kind === 'arc' ? 1 : 0))
    return { positions, normals, index, first: 0, bends }
  })
  const count = parts.reduce((sum, p) => sum + p.bends.length, 0)
  const positions = new Float32Array(3 * count)
  const normals = new Float32Array(3 * count)
  chunk.bends = new Uint8Array(count)
  chunk.triangles = new Uint32Array(parts.reduce((sum, p) => sum + p.index.length, 0))
  let [at, from] = [0, 0]
  chunk.spans = parts.map((part, i): Span => {
    positions.set(part.positions, 3 * at)
    normals.set(part.normals, 3 * at)
    chunk.bends.set(part.bends, at)
    for (let k = 0; k < part.index.length; k++) chunk.triangles[from + k] = part.index[k]! - part.first + at
    const span = {
      tube: chunk.wanted[i]!,
      at,
      count: part.bends.length,
      from,
      length: part.index.length,
    }
    at += span.count
    from += span.length
    return span
  })
  geometry.dispose()
  const fresh = new BufferGeometry()
  fresh.userData['detail'] = chunk.detail
  fresh.setAttribute('position', new BufferAttribute(positions, 3))
  fresh.setAttribute('normal', new BufferAttribute(normals, 3))
  fresh.setAttribute('color', new BufferAttribute(new Uint8Array(4 * count), 4, true))
  fresh.setIndex(new BufferAttribute(new Uint32Array(chunk.triangles.length), 1))
  fresh.computeBoundingSphere()
  chunk.mesh.geometry = fresh
}

function copied(chunk: Chunk, span: Span) {
  const { position, normal } = chunk.mesh.geometry.attributes
  const [low, high] = [span.at, span.at + span.count]
  return {
    positions: (position!.array as Float32Array).subarray(3 * low, 3 * high),
    normals: (normal!.array as Float32Array).subarray(3 * low, 3 * high),
    index: chunk.triangles.subarray(span.from, span.from + span.length),
    first: span.at,
    bends: chunk.bends.subarray(low, high),
  }
}

/** Draws the triangles of the tubes that are shown. */
function show(chunk: Chunk): void {
  const { geometry } = chunk.mesh
  const index = geometry.index!
  let drawn = 0
  chunk.spans.forEach((span, i) => {
    span.tube = { ...span.tube, shown: chunk.wanted[i]!.shown }
    if (!span.tube.shown) return
    ;(index.array as Uint32Array).set(chunk.triangles.subarray(span.from, span.from + span.length), drawn)
    drawn += span.length
  })
  index.needsUpdate = true
  geometry.setDrawRange(0, drawn)
  chunk.mesh.visible = drawn > 0
}

function paint(chunk: Chunk): void {
  const attribute = chunk.mesh.geometry.getAttribute('color')
  const words = new Uint32Array((attribute.array as Uint8Array).buffer)
  chunk.spans.forEach((span, i) => {
    const { straight, bend } = chunk.wanted[i]!
    span.tube = { ...span.tube, straight, bend }
    const [s, b] = [wordOf(straight), wordOf(bend)]
    for (let k = span.at; k < span.at + span.count; k++) words[k] = chunk.bends[k] === 1 ? b : s
  })
  attribute.needsUpdate = true
}

/** Its red, green, blue and full opacity as the four bytes of a word. */
const wordOf = ({ r, g, b }: Color): number =>
  new Uint32Array(Uint8Array.of(...[r, g, b, 1].map(c => Math.round(255 * c))).buffer)[0]!
