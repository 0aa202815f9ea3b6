import type { Vec3 } from '../../../geometry/vec3.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { type CameraRequest, sessionStore } from '../../../store/sessionStore.ts'
import { fitted, fittedBetweenBars, LOOKS, type Rig, squareTo } from '../cameraRig.ts'
import { partPoints, scenePoints } from '../sceneBounds.ts'
import type { Stage } from '../stage.ts'
import { rigOfStand } from '../viewFromCamera.ts'

/** Does what the session asks of the camera, newest request only; gives back what stops it. */
export function followCamera(stage: Stage): () => void {
  const { camera, projection } = sessionStore.getState()
  let serial = camera.serial
  stage.setRig({ ...stage.rig, projection })
  return sessionStore.subscribe(state => {
    if (state.projection !== stage.rig.projection)
      stage.setRig({ ...stage.rig, projection: state.projection })
    if (state.camera.serial === serial) return
    serial = state.camera.serial
    stage.flyTo(answer(stage, state.camera.request))
  })
}

/** Where the camera goes for a request. */
export function answer(stage: Stage, request: CameraRequest): Rig {
  const { document } = documentStore.getState()
  const { hiddenRuns, hiddenBodies, selection } = sessionStore.getState()
  const everything = () => scenePoints(document, hiddenRuns, hiddenBodies)
  switch (request.kind) {
    case 'fit':
      return fittedBetweenBars(stage.rig, stage.frame, everything())
    case 'fitSelection':
      return fittedBetweenBars(
        stage.rig,
        stage.frame,
        (selection && partPoints(document, selection)) ?? everything(),
        0.16,
      )
    case 'look':
      return fittedBetweenBars({ ...stage.rig, ...LOOKS[request.from] }, stage.frame, everything())
    case 'stand':
      return rigOfStand(request.stand)
    case 'flyTo': {
      const half = Math.max(10, request.span / 2)
      const sides = [-half, half].map(s => request.at.map(v => v + s) as unknown as Vec3)
      const from = request.square ? squareTo(stage.rig, request.square) : stage.rig
      // In perspective the middle of what is drawn of a cube is not its centre, and that is what was asked for.
      return { ...fitted(from, stage.frame, sides), target: request.at }
    }
  }
}
