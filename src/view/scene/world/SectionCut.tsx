import { extend } from '@react-three/fiber'
import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide, MeshBasicMaterial } from 'three'
import { useStore } from 'zustand'
import type { Solid } from '../../../document/types.ts'
import { addScaled, anySquareTo, cross, dot, sub, type Vec3 } from '../../../geometry/vec3.ts'
import { sectionOutline } from '../../../skid/sectionOutline.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { Box3 } from '../cameraRig.ts'
import type { Section } from '../cut.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

extend({ MeshBasicMaterial })

interface Props {
  readonly solids: readonly Solid[]
  readonly bounds: Box3
  readonly colours: ThemeColours
}

/** The section plane's frame, and the faces that it cuts into solids. */
export default function SectionCut({ solids, bounds, colours }: Props) {
  const section = useStore(sessionStore, s => s.section)
  const hidden = useStore(sessionStore, s => s.hiddenBodies)
  const frame = useMemo(() => (section ? frameOf(section, bounds) : []), [section, bounds])
  if (!section) return null
  return (
    <>
      <Dashes points={frame} colour={colours.accent} width={1.5} onTop={false} />
      {solids.map(solid =>
        hidden.has(solid.id) ? null : (
          <Face key={solid.id} solid={solid} section={section} colours={colours} />
        ),
      )}
    </>
  )
}

function Face({ solid, section, colours }: { solid: Solid; section: Section; colours: ThemeColours }) {
  const outline = useMemo(() => sectionOutline(solid, section.at, section.normal), [solid, section])
  const geometry = useMemo(() => {
    const fan = outline.slice(2).flatMap((p, i) => [outline[0]!, outline[i + 1]!, p])
    return new BufferGeometry().setAttribute('position', new BufferAttribute(new Float32Array(fan.flat()), 3))
  }, [outline])
  useEffect(() => () => geometry.dispose(), [geometry])
  const edge = useMemo(() => outline.flatMap((p, i) => [p, outline[(i + 1) % outline.length]!]), [outline])
  if (outline.length < 3) return null
  const colour = solid.kind === 'keepOut' ? colours.error : colours['ink-3']
  return (
    <>
      <mesh geometry={geometry} renderOrder={2}>
        <meshBasicMaterial color={colour} transparent opacity={0.35} depthWrite={false} side={DoubleSide} />
      </mesh>
      <Dashes points={edge} colour={colours['ink-2']} width={1.5} onTop={false} />
    </>
  )
}

/** How far the frame stands out over what it cuts, as a part of its size. */
const MARGIN = 0.04

/** Pairs of points: a rectangle in the plane around everything's bounds, and a short tick at each corner. */
function frameOf({ at, normal }: Section, { low, high }: Box3): Vec3[] {
  const level = Math.abs(normal[2]) > 0.9 ? anySquareTo(normal) : cross([0, 0, 1], normal)
  const length = Math.hypot(...level)
  const u = level.map(x => x / length) as unknown as Vec3
  const v = cross(normal, u)
  const corners = Array.from(
    { length: 8 },
    (_, i): Vec3 => [i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]],
  )
  const span = (way: Vec3) => {
    const reach = corners.map(c => dot(sub(c, at), way))
    const [from, to] = [Math.min(...reach), Math.max(...reach)]
    return [from - (to - from) * MARGIN, to + (to - from) * MARGIN] as const
  }
  const [u0, u1] = span(u)
  const [v0, v1] = span(v)
  const place = (x: number, y: number) => addScaled(addScaled(at, u, x), v, y)
  const four = [place(u0, v0), place(u1, v0), place(u1, v1), place(u0, v1)]
  // The ticks point to what is left.
  const tick = 0.03 * Math.max(u1 - u0, v1 - v0)
  return [
    ...four.flatMap((p, i) => [p, four[(i + 1) % 4]!]),
    ...four.flatMap(p => [p, addScaled(p, normal, -tick)]),
  ]
}
