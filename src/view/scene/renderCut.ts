import {
  BackSide,
  type Camera,
  type Color,
  FrontSide,
  Material,
  Mesh,
  MeshBasicMaterial,
  type Object3D,
  Plane,
  Scene,
  Vector3,
  type WebGLRenderer,
} from 'three'
import type { Section } from './cut.ts'

const NO_PLANES: Plane[] = []
const plane = new Plane()
const planes = [plane]
/** Holds, for one pass, what belongs to the scene: nothing is ever taken out of its place. */
const faces = new Scene()
faces.matrixWorldAutoUpdate = false
const faceColour = new MeshBasicMaterial({ side: BackSide })
faces.overrideMaterial = faceColour

/**
 * Takes the picture with what the section cuts away left out; `uncut` (handles, dimensions) is drawn whole on top of
 * that. Where a closed body is cut, its inside shows in one flat colour, which looks like the face of the cut.
 */
export function renderCut(
  gl: WebGLRenderer,
  scene: Scene,
  camera: Camera,
  { section, uncut, colour }: { section: Section | null; uncut: Object3D | null; colour: Color },
): void {
  if (!section || !uncut) {
    gl.clippingPlanes = NO_PLANES
    gl.render(scene, camera)
    return
  }
  plane.setFromNormalAndCoplanarPoint(
    new Vector3(...section.normal).negate().normalize(),
    new Vector3(...section.at),
  )
  uncut.visible = false
  gl.clippingPlanes = planes
  gl.render(scene, camera)
  gl.autoClear = false
  faces.children = closedBodies(scene)
  faceColour.color.copy(colour)
  gl.render(faces, camera)
  faces.children = []
  uncut.visible = true
  gl.clippingPlanes = NO_PLANES
  gl.render(uncut, camera)
  gl.autoClear = true
}

/** Opaque meshes drawn from outside only: tubes and fittings, not tints, lines or shells open to both sides. */
function closedBodies(scene: Scene): Object3D[] {
  const found: Object3D[] = []
  scene.traverseVisible(object => {
    if (!(object instanceof Mesh) || 'isLineSegments2' in object) return
    const { material } = object
    if (material instanceof Material && !material.transparent && material.side === FrontSide)
      found.push(object)
  })
  return found
}
