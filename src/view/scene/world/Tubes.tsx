import { memo, useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, type Color } from 'three'
import type { Run } from '../../../document/types.ts'
import type { Vec3 } from '../../../geometry/vec3.ts'
import type { Piece, SolvedRoute } from '../../../solve/types.ts'
import type { Part } from '../../../store/sessionStore.ts'
import { pickPieces } from '../pickIndex.ts'
import type { ThemeColours } from '../themeColours.ts'
import { type BandCode, isLight, tubeBands } from '../tubeBands.ts'
import { tubeBuffers } from '../tubeBuffers.ts'
import {
  detailFor,
  overrunDashes,
  overrunLines,
  PLAIN_DETAIL,
  type TubeMesh,
  tubeMesh,
} from '../tubeGeometry.ts'
import { bandMaterial, litMaterial, outlineMaterial, sleeveMaterial, tubeMaterial } from '../tubeMaterials.ts'
import { Dashes } from './Dashes.tsx'

interface Props {
  readonly run: Run
  readonly route: SolvedRoute
  readonly colours: ThemeColours
  readonly plain: boolean
  readonly look: TubeLook
  /** A gap between others is under review. */
  readonly faded: boolean
  /** A gap of this run is under review, and which of its two parties it is. */
  readonly inGap: 'first' | 'second' | null
  /** Of several that are picked: a line round it says so. */
  readonly picked: boolean
  /** The selection and the hover, when they are of this run. */
  readonly selected: Part | null
  readonly hovered: Part | null
}

/** Colours of a tube's straights and bends; the same objects for as long as they are the same. */
export interface TubeLook {
  readonly straight: Color
  readonly bend: Color
  /** What tells its group without the colour. */
  readonly bands: BandCode
  /** The colour stands for a group: what is selected keeps it, with a line round. */
  readonly ofGroup: boolean
}

/** Of the second party of a gap: the first is filled, the second banded, so that greys tell them too. */
const SECOND: BandCode = [2]
const NO_BANDS: BandCode = []
/** How much wider than the tube the line round it is: of its OD, and mm at least. */
const OUTLINE = { part: 0.35, least: 3 }

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

  const own = useMemo(() => whole(p.run.id), [p.run.id])
  const lit = p.inGap ? own : p.selected
  const code = p.inGap === 'second' ? SECOND : p.inGap || p.faded ? NO_BANDS : p.look.bands
  const banded = p.inGap === 'second' ? p.colours.accent : p.look.straight
  const fill = p.inGap === 'second' ? p.colours.accent : p.colours.select
  const isFilled = p.inGap !== null || !p.look.ofGroup
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
        range={isFilled ? rangeOf(lit, p.route, mesh) : null}
        colour={fill}
        strength={0.9}
      />
      <Bands pieces={p.route.pieces} od={od} code={code} on={banded} />
      <Outline
        route={p.route}
        od={od}
        part={lit ?? (p.picked ? own : null)}
        colour={p.inGap === 'second' ? p.colours.accent : p.colours.select}
      />
      <Overruns tubes={overrun} colour={p.colours.error} />
    </>
  )
})

const whole = (run: string): Part => ({ kind: 'run', run })

interface BandsProps {
  readonly pieces: readonly Piece[]
  readonly od: number
  readonly code: BandCode
  /** The tube's own colour: the bands are the light or the dark that stands out from it. */
  readonly on: Color
}

const Bands = memo(function Bands({ pieces, od, code, on }: BandsProps) {
  const geometry = useMemo(() => {
    const mesh = tubeBands(pieces, od, code, false)
    return mesh && tubeBuffers(mesh)
  }, [pieces, od, code])
  useEffect(() => () => geometry?.dispose(), [geometry])
  return geometry && <mesh geometry={geometry} material={bandMaterial(isLight(on))} />
})

interface OutlineProps {
  readonly route: SolvedRoute
  readonly od: number
  readonly part: Part | null
  readonly colour: Color
}

/** A line round the run, or round the straight or bend of it. */
const Outline = memo(function Outline({ route, od, part, colour }: OutlineProps) {
  const geometry = useMemo(() => {
    const pieces = part ? piecesOf(part, route) : []
    const wide = od + Math.max(OUTLINE.least, OUTLINE.part * od)
    return pieces.length > 0 ? tubeBuffers(tubeMesh(pieces, wide, 0, PLAIN_DETAIL)) : null
  }, [route, od, part])
  useEffect(() => () => geometry?.dispose(), [geometry])
  // From afar the shell is thinner than a pixel: a line of a width in px lies in the tube, and shows where that is wider.
  const middle = useMemo(() => {
    const own = new Set(part ? piecesOf(part, route) : [])
    return pickPieces(route).flatMap(({ piece, chords }): Vec3[] =>
      own.has(piece) ? chords.slice(1).flatMap((to, i) => [chords[i]!, to]) : [],
    )
  }, [route, part])
  return (
    geometry && (
      <>
        <mesh geometry={geometry} material={outlineMaterial(colour)} />
        <Dashes points={middle} colour={colour} width={LINE_PX} onTop={false} />
      </>
    )
  )
})
/** Wider than most tubes of a whole skid in the picture. */
const LINE_PX = 6

const piecesOf = (part: Part, route: SolvedRoute): readonly Piece[] =>
  part.kind === 'run'
    ? route.pieces
    : route.pieces.filter(p =>
        part.kind === 'straight'
          ? p.kind === 'line' && p.straight === part.straight
          : part.kind === 'point' && p.kind === 'arc' && route.bends[p.bend]?.vertexId === part.point,
      )

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
