import { memo, useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, Matrix3, Vector3 } from 'three'
import type { Solid } from '../../../document/types.ts'
import type { ThemeColours } from '../themeColours.ts'
import { bodyOf, colourOf } from './Solids.tsx'

interface Props {
  /** None of them a plane. */
  readonly solids: readonly Solid[]
  readonly colours: ThemeColours
  readonly plain: boolean
}

/** A solid's triangles and edges where it stands, mm. */
interface Placed {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly index: readonly number[]
  readonly edges: Float32Array
}
const kept = { plain: new WeakMap<Solid, Placed>(), full: new WeakMap<Solid, Placed>() }

/** Kept as long as the solid is: an edit of one makes no other anew. */
function placed(solid: Solid, plain: boolean): Placed {
  const known = kept[plain ? 'plain' : 'full']
  let made = known.get(solid)
  if (made) return made
  const { shape, edges, place } = bodyOf(solid, plain, null)
  const turn = new Matrix3().setFromMatrix4(place)
  const moved = (g: BufferGeometry, name: 'position' | 'normal') => {
    const from = g.getAttribute(name)
    const to = new Float32Array(3 * from.count)
    const p = new Vector3()
    for (let i = 0; i < from.count; i++) {
      p.fromBufferAttribute(from, i)
      ;(name === 'position' ? p.applyMatrix4(place) : p.applyMatrix3(turn)).toArray(to, 3 * i)
    }
    return to
  }
  made = {
    positions: moved(shape, 'position'),
    normals: moved(shape, 'normal'),
    index: [...(shape.index?.array ?? [])],
    edges: moved(edges, 'position'),
  }
  shape.dispose()
  edges.dispose()
  known.set(solid, made)
  return made
}

function joined(parts: readonly Float32Array[]): BufferAttribute {
  const all = new Float32Array(parts.reduce((sum, p) => sum + p.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return new BufferAttribute(all, 3)
}

/** All solids of one kind in two draw calls: bodies and edges. */
const OfKind = memo(function OfKind({ solids, colours, plain }: Props) {
  const { bodies, edges } = useMemo(() => {
    const parts = solids.map(s => placed(s, plain))
    const bodies = new BufferGeometry()
    bodies.setAttribute('position', joined(parts.map(p => p.positions)))
    bodies.setAttribute('normal', joined(parts.map(p => p.normals)))
    let first = 0
    const index = parts.flatMap(p => {
      const own = p.index.map(i => i + first)
      first += p.positions.length / 3
      return own
    })
    bodies.setIndex(index)
    const edges = new BufferGeometry()
    edges.setAttribute('position', joined(parts.map(p => p.edges)))
    return { bodies, edges }
  }, [solids, plain])
  useEffect(
    () => () => {
      bodies.dispose()
      edges.dispose()
    },
    [bodies, edges],
  )
  const { colour, opacity } = colourOf(solids[0]!, colours)
  return (
    <>
      <mesh geometry={bodies} renderOrder={2}>
        <meshLambertMaterial color={colour} transparent opacity={opacity} depthWrite={false} />
      </mesh>
      <lineSegments geometry={edges} renderOrder={2}>
        <lineBasicMaterial color={colour} transparent opacity={0.55} />
      </lineSegments>
    </>
  )
})

/** Hundreds of solids in a few draw calls, looking as each would by itself. */
export default function ManySolids({ solids, colours, plain }: Props) {
  const kinds = useMemo(() => {
    const byKind = new Map<Solid['kind'], Solid[]>()
    for (const solid of solids) {
      const have = byKind.get(solid.kind)
      if (have) have.push(solid)
      else byKind.set(solid.kind, [solid])
    }
    return [...byKind]
  }, [solids])
  return kinds.map(([kind, ofKind]) => <OfKind key={kind} solids={ofKind} colours={colours} plain={plain} />)
}
