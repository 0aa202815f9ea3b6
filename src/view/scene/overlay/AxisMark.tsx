import { useEffect, useRef } from 'react'
import { sessionStore } from '../../../store/sessionStore.ts'
import { basis } from '../cameraRig.ts'
import type { Stage } from '../stage.ts'

const AXES = ['x', 'y', 'z'] as const
const LOOK = { x: 'right', y: 'back', z: 'top' } as const
const REACH = 24

/**
 * Which way x, y and z run in the picture, turned by the camera without React. A click on a letter looks along it; by
 * keyboard the views' toolbar does the same.
 */
export function AxisMark({ stage }: { stage: Stage }) {
  const mark = useRef<SVGSVGElement>(null)
  useEffect(() => {
    const turn = () => {
      const { right, up } = basis(stage.rig)
      AXES.forEach((axis, k) => {
        const group = mark.current?.querySelector(`[data-axis="${axis}"]`)
        const [x, y] = [right[k]! * REACH, -up[k]! * REACH]
        group?.querySelector('line')?.setAttribute('x2', String(x))
        group?.querySelector('line')?.setAttribute('y2', String(y))
        group?.querySelector('g')?.setAttribute('transform', `translate(${x * 1.36} ${y * 1.36})`)
      })
    }
    turn()
    return stage.watch(turn)
  }, [stage])
  return (
    <svg className="axisMark" ref={mark} viewBox="-40 -40 80 80" aria-hidden="true">
      {AXES.map(axis => (
        <g key={axis} data-axis={axis}>
          <line x1="0" y1="0" x2="0" y2="0" />
          <g onPointerDown={() => sessionStore.getState().look({ kind: 'look', from: LOOK[axis] })}>
            <circle r="8" />
            <text dy="4">{axis}</text>
          </g>
        </g>
      ))}
    </svg>
  )
}
