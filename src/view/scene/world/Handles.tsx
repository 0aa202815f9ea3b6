import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, CanvasTexture, Points, PointsMaterial } from 'three'
import { useStore } from 'zustand'
import { routePoints } from '../../../solve/solveRun.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'

const HANDLE_PX = 12
/** Above this many points handles would hide the route. */
const MANY = 300

/** Round handles of one size in px at the vertices of the run in hand, selected one filled. */
export function Handles({ colours }: { colours: ThemeColours }) {
  const document = useStore(documentStore, s => s.document)
  const runInHand = useStore(sessionStore, s => s.runInHand)
  const show = useStore(
    sessionStore,
    s => s.mode === 'layingOut' && s.showRoute && s.runInHand !== null && !s.hiddenRuns.has(s.runInHand),
  )
  const selection = useStore(sessionStore, s => s.selection)
  const hover = useStore(sessionStore, s => s.hover)
  const points = useMemo(() => {
    const material = new PointsMaterial({
      size: HANDLE_PX,
      sizeAttenuation: false,
      transparent: true,
      depthTest: false,
      depthWrite: false,
      vertexColors: true,
      map: new CanvasTexture(disc()),
    })
    const object = new Points(new BufferGeometry(), material)
    object.renderOrder = 5
    object.frustumCulled = false
    return object
  }, [])
  useEffect(
    () => () => {
      points.geometry.dispose()
      points.material.map?.dispose()
      points.material.dispose()
    },
    [points],
  )
  useMemo(() => {
    const run = document.runs.find(r => r.id === runInHand)
    const route = run && routePoints(document, run)
    points.visible = show
    points.material.size =
      (route && 'points' in route && route.points.length > MANY ? 5 : HANDLE_PX) *
      Math.min(2, window.devicePixelRatio || 1)
    if (!run || !route || !('points' in route)) {
      points.visible = false
      return
    }
    const lit = (part: typeof selection, id: string) =>
      part?.kind === 'point' && part.run === run.id && part.point === id
    const colour = new Float32Array(
      route.ids.flatMap(id =>
        (lit(selection, id) || lit(hover, id) ? colours.select : colours.accent).toArray(),
      ),
    )
    points.geometry.dispose()
    points.geometry = new BufferGeometry()
    points.geometry.setAttribute('position', new BufferAttribute(new Float32Array(route.points.flat()), 3))
    points.geometry.setAttribute('color', new BufferAttribute(colour, 3))
  }, [points, document, runInHand, show, selection, hover, colours])
  return <primitive object={points} />
}

function disc(): HTMLCanvasElement {
  const canvas = window.document.createElement('canvas')
  canvas.width = canvas.height = 64
  const pen = canvas.getContext('2d')
  if (pen) {
    pen.fillStyle = '#fff'
    pen.beginPath()
    pen.arc(32, 32, 26, 0, 2 * Math.PI)
    pen.fill()
    pen.strokeStyle = 'rgba(0, 0, 0, 0.55)'
    pen.lineWidth = 6
    pen.stroke()
  }
  return canvas
}
