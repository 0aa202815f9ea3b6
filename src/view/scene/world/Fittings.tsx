import { memo, useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import type { Fitting } from '../../../document/types.ts'
import { addScaled, anySquareTo, unit, type Vec3 } from '../../../geometry/vec3.ts'
import { fittingMesh, fittingSize } from '../hexMesh.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

interface Props {
  readonly fittings: readonly Fitting[]
  readonly colours: ThemeColours
  readonly selected: string | null
  readonly hovered: string | null
}

/** All fittings in one geometry, each with an arrow out of its port. */
export const Fittings = memo(function Fittings({ fittings, colours, selected, hovered }: Props) {
  const { geometry, ranges } = useMemo(() => {
    const { positions, normals, ranges } = fittingMesh(fittings)
    const g = new BufferGeometry()
    g.setAttribute('position', new BufferAttribute(positions, 3))
    g.setAttribute('normal', new BufferAttribute(normals, 3))
    return { geometry: g, ranges }
  }, [fittings])
  useEffect(() => () => geometry.dispose(), [geometry])
  const body = useMemo(() => colours['ink-3'].clone().lerp(colours.panel, 0.25), [colours])
  const arrows = useMemo(() => fittings.flatMap(arrowOf), [fittings])
  const lit = [...new Set([selected, hovered])].flatMap(id => {
    const range = id === null ? undefined : ranges.get(id)
    if (id === null || !range) return []
    const g = new BufferGeometry()
    g.setAttribute('position', geometry.getAttribute('position'))
    g.setAttribute('normal', geometry.getAttribute('normal'))
    g.setDrawRange(range.start, range.count)
    return [{ id, g, strength: id === selected ? 0.9 : 0.5 }]
  })
  return (
    <>
      <mesh geometry={geometry}>
        <meshLambertMaterial color={body} />
      </mesh>
      {lit.map(({ id, g, strength }) => (
        <mesh key={id} geometry={g} renderOrder={1}>
          <meshLambertMaterial
            color={colours.select}
            transparent
            opacity={strength}
            depthWrite={false}
            polygonOffset
            polygonOffsetFactor={-1}
            polygonOffsetUnits={-1}
          />
        </mesh>
      ))}
      <Dashes points={arrows} colour={colours.accent} width={1.6} opacity={0.75} />
    </>
  )
})

/** Shaft and two barbs, as pairs of points. */
function arrowOf(fitting: Fitting): Vec3[] {
  const axis = unit(fitting.axis)
  if (!axis) return []
  const { flats, collar } = fittingSize(fitting)
  const tail = addScaled(fitting.position, axis, collar)
  const tip = addScaled(tail, axis, 1.6 * flats)
  const side = anySquareTo(axis)
  const barb = (s: number) => addScaled(addScaled(tip, axis, -0.4 * flats), side, s * 0.22 * flats)
  return [tail, tip, tip, barb(1), tip, barb(-1)]
}
