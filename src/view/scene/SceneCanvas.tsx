import { createRoot, extend } from '@react-three/fiber'
import { useEffect, useRef } from 'react'
import {
  DirectionalLight,
  Group,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  MeshPhongMaterial,
  WebGLRenderer,
} from 'three'
import { sceneStore } from './sceneStore.ts'
import type { Stage } from './stage.ts'
import { World } from './world/World.tsx'

// By name, not the whole of three: the first view has a size limit.
extend({
  DirectionalLight,
  Group,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshLambertMaterial,
  MeshPhongMaterial,
})

/** How long a browser may take to give a lost context back before the canvas is built anew. */
const RESTORE_WITHIN_MS = 3000

interface Props {
  readonly stage: Stage
  readonly plain: boolean
  readonly label: string
  /** The canvas is new (first, or after another detail or a lost context that did not come back). */
  readonly onCanvas: (canvas: HTMLCanvasElement) => () => void
  readonly onGone: () => void
}

/** The WebGL canvas, filling its parent. It is built anew when `plain` changes: antialiasing is fixed at birth. */
export function SceneCanvas({ stage, plain, label, onCanvas, onGone }: Props) {
  const host = useRef<HTMLDivElement>(null)
  const hadFocus = useRef(false)
  useEffect(() => {
    const box = host.current
    if (!box) return
    const canvas = document.createElement('canvas')
    canvas.tabIndex = 0
    canvas.setAttribute('role', 'application')
    canvas.setAttribute('aria-roledescription', '3D view')
    box.append(canvas)
    if (hadFocus.current) canvas.focus({ preventScroll: true })
    let gone = false
    let restoring = 0
    const onLost = (event: Event) => {
      event.preventDefault()
      if (gone) return
      sceneStore.setState({
        lost: '3D view lost; restoring. Tables and files still work.',
      })
      restoring = window.setTimeout(onGone, RESTORE_WITHIN_MS)
    }
    const onRestored = () => {
      window.clearTimeout(restoring)
      sceneStore.setState({ lost: null })
      stage.draw()
    }
    canvas.addEventListener('webglcontextlost', onLost)
    canvas.addEventListener('webglcontextrestored', onRestored)

    let renderer: WebGLRenderer
    try {
      renderer = new WebGLRenderer({
        canvas,
        antialias: !plain,
        alpha: true,
        powerPreference: 'high-performance',
      })
    } catch {
      canvas.remove()
      sceneStore.setState({
        lost: 'WebGL is not available, so there is no 3D picture. Tables, unrolled tube and files work.',
      })
      return
    }
    // Asking after errors waits for the graphics card, at each new kind of material.
    renderer.debug.checkShaderErrors = !import.meta.env.PROD
    const root = createRoot(canvas)
    let resize: ((width: number, height: number) => void) | null = null
    const measure = () => {
      const { width, height } = box.getBoundingClientRect()
      if (width < 1 || height < 1) return
      stage.setFrame({ width, height })
      resize?.(width, height)
    }
    const observer = new ResizeObserver(measure)
    void (async () => {
      const { width, height } = box.getBoundingClientRect()
      await root.configure({
        gl: renderer,
        frameloop: 'demand',
        dpr: plain ? 1 : [1, 2],
        flat: true,
        size: { width: Math.max(1, width), height: Math.max(1, height), top: 0, left: 0 },
      })
      if (gone) return
      const store = root.render(<World stage={stage} plain={plain} />)
      resize = (w, h) => {
        store.getState().setSize(w, h)
        store.getState().invalidate()
      }
      observer.observe(box)
      measure()
      sceneStore.setState({ lost: null })
    })()
    const release = onCanvas(canvas)
    return () => {
      gone = true
      hadFocus.current = document.activeElement === canvas
      window.clearTimeout(restoring)
      observer.disconnect()
      release()
      root.unmount()
      canvas.remove()
    }
  }, [stage, plain, onCanvas, onGone])
  useEffect(() => {
    host.current?.querySelector('canvas')?.setAttribute('aria-label', label)
  })
  return <div className="sceneHost" ref={host} />
}
