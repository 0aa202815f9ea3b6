import { useThree } from '@react-three/fiber'
import { memo, useEffect, useMemo } from 'react'
import { type Color, DoubleSide, EdgesGeometry, Matrix4, Vector3 } from 'three'
import { useStore } from 'zustand'
import type { Model, ModelKind } from '../../../document/types.ts'
import { turnedAxes } from '../../../geometry/convex.ts'
import { addScaled, type Vec3 } from '../../../geometry/vec3.ts'
import { bodyId } from '../../../skid/models/modelBodies.ts'
import type { ModelDrawing } from '../../../skid/models/modelDrawing.ts'
import { loadedOf, modelStore } from '../../../store/modelStore.ts'
import { type Part, sessionStore } from '../../../store/sessionStore.ts'
import { modelViewStore } from '../../models/modelViewStore.ts'
import { type Bucket, indicesOf, isHidden, modelBuckets } from '../modelBuckets.ts'
import type { ThemeColours } from '../themeColours.ts'
import { type SharedVertices, sharedVertices, useSharedGeometry } from './sharedGeometry.ts'

/** Edges help to read a plain shape; of a finely divided one they are a black blot, and slow. */
const MOST_TRIANGLES_WITH_EDGES = 20_000
/** Degrees between two faces from which their common edge is drawn. */
const EDGE_DEG = 30

interface Props {
  readonly models: readonly Model[]
  readonly colours: ThemeColours
}

/** All imported models that are read. Loaded with the first model: most skids have none. */
export default function Models({ models, colours }: Props) {
  const state = useStore(modelStore)
  const hidden = useStore(sessionStore, s => s.hiddenBodies)
  const selection = useStore(sessionStore, s => s.selection)
  const hover = useStore(sessionStore, s => s.hover)
  const hoverWith = useStore(sessionStore, s => s.hoverWith)
  const between = useStore(sessionStore, s => s.gap?.between ?? null)
  const branch = useStore(modelViewStore, s => s.branch)
  const invalidate = useThree(s => s.invalidate)
  useEffect(() => invalidate())
  return models.map(model => {
    const drawing = loadedOf(state, model)?.drawing
    if (!drawing) return null
    const own = (part: Part | null) => (part?.kind === 'model' && part.model === model.id ? part : null)
    return (
      <ModelBody
        key={model.id}
        model={model}
        drawing={drawing}
        colours={colours}
        hidden={hidden}
        selected={own(selection)}
        branch={branch?.model === model.id ? branch.keys : null}
        hovered={own(hover) ?? own(hoverWith)}
        between={between}
      />
    )
  })
}

interface BodyProps {
  readonly model: Model
  readonly drawing: ModelDrawing
  readonly colours: ThemeColours
  readonly hidden: ReadonlySet<string>
  readonly selected: (Part & { kind: 'model' }) | null
  readonly branch: ReadonlySet<string> | null
  readonly hovered: (Part & { kind: 'model' }) | null
  readonly between: readonly [string, string] | null
}

/** One model: a draw call for each kind, one for what is selected and one for what is pointed at. */
const ModelBody = memo(function ModelBody(p: BodyProps) {
  const { model, drawing, colours, hidden, selected, hovered, between, branch } = p
  const shared = useMemo(() => sharedVertices(drawing), [drawing])
  const buckets = useMemo(() => modelBuckets(model, drawing, hidden), [model, drawing, hidden])
  const place = useMemo(() => matrixOf(model.at, model.turn, drawing.origin), [model.at, model.turn, drawing])
  const lit = useMemo(() => {
    const inGap = (key: string) => between?.includes(bodyId(model.id, key)) ?? false
    const isLit = (key: string) =>
      between ? inGap(key) : selected?.key === key || (selected?.key === null && branch?.has(key))
    // A part in the gap under review is shown even where it is hidden: the gap would end in the air.
    const parts = drawing.parts.filter(d => isLit(d.key) && (between || !isHidden(hidden, model.id, d.key)))
    return parts.length > 0 ? indicesOf(drawing, parts) : null
  }, [drawing, model.id, between, selected, branch, hidden])
  const pointed = useMemo(() => {
    if (!hovered || hovered.key === selected?.key) return null
    const parts = drawing.parts.filter(
      d => (hovered.key === null || d.key === hovered.key) && !isHidden(hidden, model.id, d.key),
    )
    return parts.length > 0 ? indicesOf(drawing, parts) : null
  }, [drawing, model.id, hovered, selected, hidden])
  const whole = selected?.key === null && !branch
  return (
    <group matrix={place} matrixAutoUpdate={false}>
      {buckets.map(bucket => (
        <Kind
          key={bucket.kind}
          bucket={bucket}
          shared={shared}
          colours={colours}
          whole={whole}
          faded={between !== null}
        />
      ))}
      {pointed && <Lit indices={pointed} shared={shared} colour={colours.select} strength={0.35} />}
      {lit && <Lit indices={lit} shared={shared} colour={colours.select} strength={0.9} />}
    </group>
  )
})

function colourOf(kind: ModelKind, colours: ThemeColours): { colour: Color; opacity: number } {
  const muted = (c: Color, towards: number) => c.clone().lerp(colours.panel, towards)
  switch (kind) {
    case 'equipment':
      return { colour: muted(colours.note, 0.5), opacity: 1 }
    case 'structure':
      return { colour: muted(colours['ink-3'], 0.5), opacity: 1 }
    case 'fitting':
      return { colour: muted(colours['ink-2'], 0.35), opacity: 1 }
    case 'floor':
      return { colour: colours.grid, opacity: 1 }
    case 'keepOut':
      return { colour: colours.error, opacity: 0.2 }
    case 'leftOut':
      return { colour: colours['line-strong'], opacity: 0.35 }
  }
}

interface KindProps {
  readonly bucket: Bucket
  readonly shared: SharedVertices
  readonly colours: ThemeColours
  /** The whole model is selected. */
  readonly whole: boolean
  /** A gap is under review: all but its two parties stand back. */
  readonly faded: boolean
}

function Kind({ bucket, shared, colours, whole, faded }: KindProps) {
  const geometry = useSharedGeometry(shared, bucket.indices)
  const edges = useMemo(
    () =>
      bucket.indices.length / 3 <= MOST_TRIANGLES_WITH_EDGES ? new EdgesGeometry(geometry, EDGE_DEG) : null,
    [geometry, bucket],
  )
  useEffect(() => () => edges?.dispose(), [edges])
  const { colour, opacity } = useMemo(() => {
    const own = colourOf(bucket.kind, colours)
    return whole ? { ...own, colour: own.colour.clone().lerp(colours.select, 0.55) } : own
  }, [bucket.kind, colours, whole])
  const line = useMemo(() => colour.clone().lerp(colours.ink, 0.45), [colour, colours])
  const shown = faded ? Math.min(opacity, 0.14) : opacity
  const see = shown < 1
  return (
    <>
      <mesh geometry={geometry} renderOrder={see ? 2 : 0}>
        <meshLambertMaterial
          // three compiles opaque and see-through materials apart.
          key={see ? 'see' : 'solid'}
          color={colour}
          flatShading
          side={DoubleSide}
          transparent={see}
          opacity={shown}
          depthWrite={!see}
          polygonOffset
          polygonOffsetFactor={1}
          polygonOffsetUnits={1}
        />
      </mesh>
      {edges && (
        <lineSegments geometry={edges} renderOrder={2}>
          <lineBasicMaterial color={line} transparent opacity={faded ? 0.15 : see ? 0.5 : 0.7} />
        </lineSegments>
      )}
    </>
  )
}

interface LitProps {
  readonly indices: Uint32Array
  readonly shared: SharedVertices
  readonly colour: Color
  readonly strength: number
}

/** Drawn over what is there, from the same vertices. */
function Lit({ indices, shared, colour, strength }: LitProps) {
  const geometry = useSharedGeometry(shared, indices)
  return (
    <mesh geometry={geometry} renderOrder={1}>
      <meshLambertMaterial
        color={colour}
        flatShading
        transparent
        opacity={strength}
        side={DoubleSide}
        depthWrite={false}
      />
    </mesh>
  )
}

function matrixOf(at: Vec3, turn: Vec3, origin: Vec3): Matrix4 {
  const axes = turnedAxes(turn)
  const middle = axes.reduce<Vec3>((p, axis, k) => addScaled(p, axis, origin[k]!), at)
  const [x, y, z] = axes.map(a => new Vector3(...a)) as [Vector3, Vector3, Vector3]
  return new Matrix4().makeBasis(x, y, z).setPosition(new Vector3(...middle))
}
