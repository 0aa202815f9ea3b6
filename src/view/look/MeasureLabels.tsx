import { useEffect, useRef } from 'react'
import { createPortal } from 'react-dom'
import { useStore } from 'zustand'
import { lerp, type Vec3 } from '../../geometry/vec3.ts'
import { measureStore } from '../../store/measureStore.ts'
import type { Stage } from '../scene/stage.ts'

/** The measured figure beside its line in the picture, and a ring at each end; moved by the camera without React. */
export function MeasureLabels({ stage }: { readonly stage: Stage }) {
  const drawn = useStore(measureStore, s => s.drawn)
  const layer = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (!drawn) return
    const places: readonly Vec3[] = [drawn.from, drawn.to, lerp(drawn.from, drawn.to, 0.5)]
    const move = () => {
      places.forEach((at, i) => {
        const mark = layer.current?.children[i] as HTMLElement | undefined
        const seen = stage.project(at)
        if (!mark) return
        mark.style.display = seen ? '' : 'none'
        if (seen) mark.style.transform = `translate(${seen.x.toFixed(1)}px, ${seen.y.toFixed(1)}px)`
      })
    }
    move()
    return stage.watch(move)
  }, [drawn, stage])
  const scene = document.querySelector('.scene')
  if (!drawn || !scene) return null
  return createPortal(
    <div className="measureLabels" ref={layer} aria-hidden="true">
      <i />
      <i />
      <span>
        <b>{drawn.text}</b>
      </span>
    </div>,
    scene,
  )
}
