import { memo, useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, type Color } from 'three'
import type { Run } from '../../../document/types.ts'
import type { Piece, SolvedRoute } from '../../../solve/types.ts'
import type { Part } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import {
  detailFor,
  overrunDashes,
  overrunLines,
  PLAIN_DETAIL,
  type TubeMesh,
  tubeMesh,
} from '../tubeGeometry.ts'
import { litMaterial, sleeveMaterial, tubeMaterial } from '../tubeMaterials.ts'
import { Dashes } from './Dashes.tsx'

interface Props {
  readonly run: Run
  readonly route: SolvedRoute
  readonly colours: ThemeColours
  readonly plain: boolean
  readonly look: TubeLook
  /** A gap between others is under review. */
  readonly faded: boolean
  /** A gap of this run is under review. */
  readonly inGap: boolean
  /** The selection and the hover, when they are of this run. */
  readonly selected: Part | null
  readonly hovered: Part | null
}

/** Colours of a tube's straights and bends; the same objects for as long as they are the same. */
export interface TubeLook {
  readonly straight: Color
  readonly bend: Color
}

/** One bent tube, one geometry; what is selected or hovered is drawn over it from the same buffers. */
export const TubeOfRun = memo(function TubeOfRun(p: Props) {
  const { od, wall } = p.run.tube
  const mesh = useMemo(
    () => tubeMesh(p.route.pieces, od, wall, detailFor(p.route.pieces, p.plain)),
    [p.route, od, wall, p.plain],
  )
  const geometry = useMemo(() => tubeBuffers(mesh), [mesh])
  useEffect(() => () => geometry.dispose(), [geometry])
  useMemo(() => {
    // With opacity, as many tubes have it together: one program draws both.
    const colours = new Float32Array(mesh.pieceOf.length * 4)
    const ofPiece = p.route.pieces.map(({ kind }) => (kind === 'arc' ? p.look.bend : p.look.straight))
    for (let i = 0; i < mesh.pieceOf.length; i++) {
      const { r, g, b } = ofPiece[mesh.pieceOf[i]!]!
      colours[4 * i] = r
      colours[4 * i + 1] = g
      colours[4 * i + 2] = b
      colours[4 * i + 3] = 1
    }
    geometry.setAttribute('color', new BufferAttribute(colours, 4))
  }, [geometry, mesh, p.route, p.look])

  const overrun = useMemo(() => [{ pieces: p.route.pieces, od }], [p.route, od])
  return (
    <>
      <mesh geometry={geometry} material={tubeMaterial(p.plain, p.faded)} />
      <Lit
        geometry={geometry}
        range={rangeOf(p.hovered, p.route, mesh)}
        colour={p.colours.select}
        strength={0.4}
      />
      <Lit
        geometry={geometry}
        range={rangeOf(p.inGap ? { kind: 'run', run: p.run.id } : p.selected, p.route, mesh)}
        colour={p.colours.select}
        strength={0.9}
      />
      <Overruns tubes={overrun} colour={p.colours.error} />
    </>
  )
})

interface OverrunProps {
  readonly tubes: readonly { readonly pieces: readonly Piece[]; readonly od: number }[]
  readonly colour: Color
}

/** Where bends overrun each other: dashes along the backward stretches and a red sleeve round each, seen through the tube. */
export const Overruns = memo(function Overruns({ tubes, colour }: OverrunProps) {
  const dashes = useMemo(() => tubes.flatMap(t => overrunDashes(t.pieces, t.od * 0.5)), [tubes])
  const sleeves = useMemo(() => {
    const meshes = tubes.flatMap(t =>
      overrunLines(t.pieces).map(line => tubeMesh([line], t.od * 1.3, 0, PLAIN_DETAIL)),
    )
    if (meshes.length === 0) return null
    const g = new BufferGeometry()
    const joined = (of: (m: TubeMesh) => Float32Array) =>
      new BufferAttribute(Float32Array.from(meshes.flatMap(m => [...of(m)])), 3)
    g.setAttribute(
      'position',
      joined(m => m.positions),
    )
    g.setAttribute(
      'normal',
      joined(m => m.normals),
    )
    let first = 0
    const index = meshes.flatMap(m => {
      const own = [...m.index].map(i => i + first)
      first += m.pieceOf.length
      return own
    })
    g.setIndex(index)
    return g
  }, [tubes])
  useEffect(() => () => sleeves?.dispose(), [sleeves])
  if (!sleeves) return null
  return (
    <>
      <Dashes points={dashes} colour={colour} width={5} />
      <mesh geometry={sleeves} material={sleeveMaterial(colour)} renderOrder={2} />
    </>
  )
})

type Range = { readonly start: number; readonly count: number }

function Lit(p: { geometry: BufferGeometry; range: Range | null; colour: Color; strength: number }) {
  const part = useMemo(() => {
    if (!p.range) return null
    const g = new BufferGeometry()
    g.setAttribute('position', p.geometry.getAttribute('position'))
    g.setAttribute('normal', p.geometry.getAttribute('normal'))
    g.setIndex(p.geometry.getIndex())
    g.setDrawRange(p.range.start, p.range.count)
    return g
  }, [p.geometry, p.range])
  if (!part) return null
  return <mesh geometry={part} material={litMaterial(p.colour, p.strength)} renderOrder={1} />
}

/** Which indices a part of the run covers: the whole outer wall for the run, nothing for an end point. */
function rangeOf(part: Part | null, route: SolvedRoute, mesh: { ranges: readonly Range[] }): Range | null {
  if (!part) return null
  const { ranges } = mesh
  if (part.kind === 'run') {
    const last = ranges.filter(r => r.count > 0).at(-1)
    return last ? { start: 0, count: last.start + last.count } : null
  }
  const piece = route.pieces.findIndex(p =>
    part.kind === 'straight'
      ? p.kind === 'line' && p.straight === part.straight
      : part.kind === 'point' && p.kind === 'arc' && route.bends[p.bend]?.vertexId === part.point,
  )
  const range = ranges[piece]
  return range && range.count > 0 ? range : null
}
