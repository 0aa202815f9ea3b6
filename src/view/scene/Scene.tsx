import { lazy, Suspense, useCallback, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import type { Vec3 } from '../../geometry/vec3.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { LookBar } from '../look/LookBar.tsx'
import { useDocument, useSession } from '../useStore.ts'
import { watchFrames } from './frameWatch.ts'
import { answer, followCamera } from './gestures/followCamera.ts'
import { planeAtLastPoint, stopPlacing } from './gestures/placePoint.ts'
import { listenToSceneKeys } from './gestures/sceneKeys.ts'
import { watchPointer } from './gestures/watchPointer.ts'
import { AxisMark } from './overlay/AxisMark.tsx'
import { Labels } from './overlay/Labels.tsx'
import { Readout } from './overlay/Readout.tsx'
import { ViewBar } from './overlay/ViewBar.tsx'
import { SceneCanvas } from './SceneCanvas.tsx'
import { sceneStore } from './sceneStore.ts'
import { Stage } from './stage.ts'
import './scene.css'

/** Loaded with the second run: one tube has nothing to be told from. */
const ColourLegend = lazy(async () => ({
  default: (await import('../colouring/ColourLegend.tsx')).ColourLegend,
}))
const SupportTool = lazy(() => import('../supports/SupportTool.tsx'))

declare global {
  interface Window {
    /**
     * Hook for tests and assistive tools: where on the screen (client px) a point of the skid (mm) is; null behind
     * the eye or while there is no scene.
     */
    dogleg?: { project(point: Vec3): { x: number; y: number } | null }
  }
}

/** The 3D view of the skid, filling its (positioned) parent. */
export function Scene() {
  const [stage] = useState(() => new Stage())
  const [birth, setBirth] = useState(0)
  const plain = useSession(s => s.detail) === 'plain'
  const tool = useSession(s => s.tool)
  const hasRuns = useDocument(s => s.document.runs.length > 0)
  const several = useDocument(s => s.document.runs.length > 1)
  const box = useRef<HTMLDivElement>(null)
  const lost = useStore(sceneStore, s => s.lost)
  const summary = useDocument(s => `${s.document.runs.length} runs, ${s.document.fittings.length} fittings`)

  const onCanvas = useCallback(
    (canvas: HTMLCanvasElement) => {
      window.dogleg = {
        project(point) {
          const box = canvas.getBoundingClientRect()
          const seen = stage.project(point)
          return seen && { x: box.left + seen.x, y: box.top + seen.y }
        },
      }
      const release = watchPointer(stage, canvas)
      return () => {
        release()
        delete window.dogleg
      }
    },
    [stage],
  )
  const onGone = useCallback(() => setBirth(b => b + 1), [])

  useEffect(() => followCamera(stage), [stage])
  useEffect(() => fitFirst(stage), [stage])
  useEffect(() => {
    return box.current ? listenToSceneKeys(stage, box.current) : undefined
  }, [stage])
  useEffect(() => {
    sessionStore.getState().setHover(null)
    if (tool === 'place') planeAtLastPoint()
    else stopPlacing()
  }, [tool])
  useEffect(() => {
    return hasRuns ? watchFrames(stage) : undefined
  }, [stage, hasRuns])

  return (
    <div className="scene" ref={box}>
      <SceneCanvas
        key={birth}
        stage={stage}
        plain={plain}
        label={`Skid in 3D: ${summary}. The tables hold the same points.`}
        onCanvas={onCanvas}
        onGone={onGone}
      />
      <Labels stage={stage} />
      <AxisMark stage={stage} />
      <ViewBar />
      <LookBar stage={stage} />
      <Suspense fallback={null}>{several && <ColourLegend />}</Suspense>
      <Suspense fallback={null}>{tool === 'support' && <SupportTool stage={stage} />}</Suspense>
      <Readout />
      {lost && (
        <p className="sceneLost" role="status">
          {lost}
        </p>
      )}
    </div>
  )
}

/** Fits the picture once it has a size and whenever another document is opened. */
function fitFirst(stage: Stage): () => void {
  let fitted: number | null = null
  const fitNew = () => {
    if (stage.frame.width < 2) return
    const { generation } = documentStore.getState()
    if (generation === fitted) return
    fitted = generation
    stage.setRig(answer(stage, { kind: 'look', from: 'iso' }))
  }
  const stop = [documentStore.subscribe(fitNew), stage.watch(fitNew)]
  fitNew()
  return () => {
    for (const s of stop) s()
  }
}
