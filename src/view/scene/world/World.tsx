import { useFrame, useThree } from '@react-three/fiber'
import { lazy, type RefObject, Suspense, useEffect, useMemo, useRef, useState } from 'react'
import {
  type Color,
  type DirectionalLight,
  type Group,
  Matrix4,
  OrthographicCamera,
  PerspectiveCamera,
  Vector3,
} from 'three'
import { useStore } from 'zustand'
import type { Solid } from '../../../document/types.ts'
import { addScaled, distance } from '../../../geometry/vec3.ts'
import { compareStore } from '../../../store/compareStore.ts'
import { solvedRuns } from '../../../store/derived.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { measureStore } from '../../../store/measureStore.ts'
import { mendStore } from '../../../store/mendStore.ts'
import { modelStore } from '../../../store/modelStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { basis, eyeDistance, FOV_DEG } from '../cameraRig.ts'
import { floorGrid, floorHeight } from '../floorGrid.ts'
import { renderCut } from '../renderCut.ts'
import { sceneBounds } from '../sceneBounds.ts'
import { sceneStore } from '../sceneStore.ts'
import type { Stage } from '../stage.ts'
import { readTheme, watchTheme } from '../themeColours.ts'
import { Fittings } from './Fittings.tsx'
import { Floor } from './Floor.tsx'
import { GapMark } from './GapMark.tsx'
import { Guides } from './Guides.tsx'
import { Handles } from './Handles.tsx'
import { MeasureMark } from './MeasureMark.tsx'
import { Runs } from './Runs.tsx'
import { SolidBody } from './Solids.tsx'

/** Loaded with the first model: most skids have none. */
const Models = lazy(() => import('./Models.tsx'))
const Ghost = lazy(async () => ({ default: (await import('./Ghost.tsx')).Ghost }))
const EarlierTubes = lazy(() => import('./EarlierTubes.tsx'))
const ManySolids = lazy(() => import('./ManySolids.tsx'))
const SupportBody = lazy(async () => ({ default: (await import('./Supports.tsx')).SupportBody }))
const WorkPlane = lazy(() => import('./WorkPlane.tsx'))
const SectionCut = lazy(() => import('./SectionCut.tsx'))
const Sleeves = lazy(async () => ({ default: (await import('./Sleeves.tsx')).Sleeves }))
const Exemptions = lazy(async () => ({ default: (await import('./Exemptions.tsx')).Exemptions }))

/** Everything that is drawn. Redraws when the document, the session or the camera changes, and only then. */
export function World({ stage, plain }: { stage: Stage; plain: boolean }) {
  const document = useStore(documentStore, s => s.document)
  const settled = useStore(documentStore, s => s.settled)
  const selection = useStore(sessionStore, s => s.selection)
  const hover = useStore(sessionStore, s => s.hover)
  const hoverWith = useStore(sessionStore, s => s.hoverWith)
  const hidden = useStore(sessionStore, s => s.hiddenRuns)
  const gap = useStore(sessionStore, s => s.gap)
  const mending = useStore(mendStore, s => s.shown !== null)
  const placing = useStore(sessionStore, s => s.tool === 'place')
  const unit = useStore(sessionStore, s => s.unit)
  const [colours, setColours] = useState(readTheme)
  useEffect(() => watchTheme(() => setColours(readTheme())), [])

  const invalidate = useThree(s => s.invalidate)
  useEffect(() => {
    const draw = () => invalidate()
    stage.draw = draw
    return () => {
      // A new canvas may have taken over before the old one is gone.
      if (stage.draw === draw) stage.draw = () => {}
    }
  }, [stage, invalidate])
  // Any change this component sees is a change of the picture; guides and work plane have a store of their own.
  useEffect(() => invalidate())
  useEffect(() => sceneStore.subscribe(() => invalidate()), [invalidate])

  const hiddenBodies = useStore(sessionStore, s => s.hiddenBodies)
  const models = useStore(modelStore, s => s.states)
  // biome-ignore lint/correctness/useExhaustiveDependencies: how large a model is is known once it is read
  const bounds = useMemo(
    () => sceneBounds(settled, hidden, hiddenBodies),
    [settled, hidden, hiddenBodies, models],
  )
  stage.bounds = bounds
  const solved = solvedRuns(document)
  const grid = useMemo(() => floorGrid(bounds, floorHeight(settled), unit), [bounds, settled, unit])
  const comparing = useStore(compareStore, s => s.earlier !== null)
  const reviewing = useStore(sessionStore, s => s.mode === 'reviewing')
  const isCut = useStore(sessionStore, s => s.section !== null)
  useEffect(() => measureStore.subscribe(() => invalidate()), [invalidate])
  const uncut = useRef<Group>(null)
  const placeOfRun = useMemo(() => new Map(document.runs.map((r, i) => [r.id, i])), [document.runs])
  const selectedSolid = selection?.kind === 'solid' ? selection.solid : null
  const litSolid = (id: string) =>
    gap?.between[1] === id
      ? 'second'
      : selectedSolid === id || gap?.between[0] === id
        ? 'selected'
        : [hover, hoverWith].some(p => p?.kind === 'solid' && p.solid === id)
          ? 'hovered'
          : null
  const { together, apart } = useMemo(
    () => sortSolids(document.solids, hiddenBodies),
    [document.solids, hiddenBodies],
  )
  const isLagged = useMemo(() => document.runs.some(r => r.insulation > 0), [document.runs])
  // Over those drawn together: what somebody points at must not make the others anew.
  const litOver = together.filter(s => litSolid(s.id))

  return (
    <>
      <Eye stage={stage} uncut={uncut} cutColour={colours['ink-3']} />
      <Floor grid={grid} colours={colours} />
      <Fittings
        fittings={document.fittings}
        colours={colours}
        selected={selection?.kind === 'fitting' ? selection.fitting : null}
        hovered={
          hover?.kind === 'fitting' ? hover.fitting : hoverWith?.kind === 'fitting' ? hoverWith.fitting : null
        }
      />
      {document.models.length > 0 && (
        <Suspense fallback={null}>
          <Models models={document.models} colours={colours} />
        </Suspense>
      )}
      {together.length > 0 && (
        <Suspense fallback={null}>
          <ManySolids solids={together} colours={colours} plain={plain} />
        </Suspense>
      )}
      {[...apart, ...litOver].map(solid => (
        <SolidBody
          key={solid.id}
          solid={solid}
          colours={colours}
          plain={plain}
          lit={litSolid(solid.id)}
          bounds={solid.shape === 'plane' ? bounds : null}
        />
      ))}
      <Runs document={document} colours={colours} plain={plain} />
      {isLagged && (
        <Suspense fallback={null}>
          <Sleeves
            runs={document.runs}
            fittings={document.fittings}
            solved={solved}
            hidden={hidden}
            colours={colours}
          />
        </Suspense>
      )}
      <Suspense fallback={null}>
        {document.supports.map(support => {
          const i = hidden.has(support.run) ? -1 : (placeOfRun.get(support.run) ?? -1)
          const is = (part: typeof hover) => part?.kind === 'support' && part.support === support.id
          return i < 0 ? null : (
            <SupportBody
              key={support.id}
              support={support}
              run={document.runs[i]!}
              solved={solved[i]!}
              colours={colours}
              lit={is(selection) ? 'selected' : is(hover) || is(hoverWith) ? 'hovered' : null}
            />
          )
        })}
      </Suspense>
      <group ref={uncut}>
        {placing && (
          <Suspense fallback={null}>
            <WorkPlane bounds={bounds} colours={colours} />
          </Suspense>
        )}
        <Handles colours={colours} />
        <Guides colours={colours} />
        {gap && <GapMark gap={gap} colours={colours} />}
        {(selection !== null || gap !== null) && (
          <Suspense fallback={null}>
            <Exemptions colours={colours} />
          </Suspense>
        )}
        {mending && (
          <Suspense fallback={null}>
            <Ghost colours={colours} />
          </Suspense>
        )}
        {comparing && reviewing && (
          <Suspense fallback={null}>
            <EarlierTubes colours={colours} />
          </Suspense>
        )}
        <MeasureMark colours={colours} />
        {isCut && (
          <Suspense fallback={null}>
            <SectionCut solids={document.solids} bounds={bounds} colours={colours} />
          </Suspense>
        )}
      </group>
    </>
  )
}

/** Up to this many solids each is drawn by itself. */
const FEW_SOLIDS = 200

/** The solids that are drawn: those of many together, and by themselves planes and few. The floor is drawn elsewhere. */
function sortSolids(
  solids: readonly Solid[],
  hidden: ReadonlySet<string>,
): { readonly together: readonly Solid[]; readonly apart: readonly Solid[] } {
  const shown = solids.filter(s => !hidden.has(s.id) && !(s.shape === 'plane' && s.kind === 'floor'))
  if (shown.length <= FEW_SOLIDS) return { together: [], apart: shown }
  return { together: shown.filter(s => s.shape !== 'plane'), apart: shown.filter(s => s.shape === 'plane') }
}

interface EyeProps {
  readonly stage: Stage
  /** What no section cuts. */
  readonly uncut: RefObject<Group | null>
  readonly cutColour: Color
}

/** Puts the stage's camera into three and takes the picture. The light stands over the eye's left shoulder. */
function Eye({ stage, uncut, cutColour }: EyeProps) {
  const light = useRef<DirectionalLight>(null)
  const cameras = useMemo(
    () => ({ perspective: new PerspectiveCamera(FOV_DEG), orthographic: new OrthographicCamera() }),
    [],
  )
  useFrame(({ gl, scene, size }) => {
    const { rig, bounds } = stage
    const { right, up, back } = basis(rig)
    const middle = bounds.low.map((l, k) => (l + bounds.high[k]!) / 2) as [number, number, number]
    const reach = distance(bounds.low, bounds.high) + distance(middle, rig.target)
    const far = eyeDistance(rig)
    const camera = cameras[rig.projection]
    const stand = rig.projection === 'perspective' ? far : far + 2 * reach
    camera.position.set(...addScaled(rig.target, back, stand))
    camera.quaternion.setFromRotationMatrix(
      new Matrix4().makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...back)),
    )
    camera.near = Math.max(stand * 0.01, stand - 2 * reach)
    camera.far = stand + 2 * reach
    const aspect = size.width / Math.max(1, size.height)
    if (camera instanceof PerspectiveCamera) camera.aspect = aspect
    else {
      camera.top = rig.span / 2
      camera.bottom = -camera.top
      camera.right = camera.top * aspect
      camera.left = -camera.right
    }
    camera.updateProjectionMatrix()
    camera.updateMatrixWorld()
    light.current?.position.set(...addScaled(addScaled(addScaled([0, 0, 0], back, 1), up, 1.1), right, -0.7))
    renderCut(gl, scene, camera, {
      section: sessionStore.getState().section,
      uncut: uncut.current,
      colour: cutColour,
    })
  }, 1)
  return (
    <>
      <hemisphereLight args={['#ffffff', '#8b9794', 1.7]} />
      <directionalLight ref={light} intensity={1.9} />
    </>
  )
}
