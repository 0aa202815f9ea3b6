import {
  BoxGeometry,
  BufferGeometry,
  ConeGeometry,
  CylinderGeometry,
  DirectionalLight,
  EdgesGeometry,
  Group,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  Matrix4,
  Mesh,
  MeshLambertMaterial,
  PerspectiveCamera,
  PlaneGeometry,
  Scene,
  TorusGeometry,
  Vector3,
  WebGLRenderer,
} from 'three'
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js'
import { armSense } from '../../bender/kinds/benderKinds.ts'
import type { TubeAtDie } from '../../bender/tubeAtDie.ts'
import type { BenchSolid, Bender, Tooling } from '../../document/types.ts'
import {
  addScaled,
  anySquareTo,
  cross,
  DEG,
  dot,
  turnDirection,
  unit,
  type Vec3,
} from '../../geometry/vec3.ts'
import type { Piece } from '../../solve/types.ts'
import type { ThemeColours } from '../scene/themeColours.ts'
import { tubeBuffers } from '../scene/tubeBuffers.ts'
import { FULL_DETAIL, PLAIN_DETAIL, tubeMesh } from '../scene/tubeGeometry.ts'
import { frameView } from './frameView.ts'

export type BenchLook = 'tail' | 'above' | 'side'

/** What is lit because it touches. */
export interface Lit {
  readonly part: { readonly kind: 'straight' | 'bend'; readonly index: number } | null
  readonly solid: string | null
}

export interface BenchStage {
  /** Puts the tube there and draws. `mark` is where the pencil mark stands along x, or null when it is wrapped. */
  show(tube: TubeAtDie, lit: Lit | null, mark: number | null): void
  /** Looks from there so that all points (mm, at least one) are in view, now and after every change of size. */
  look(from: BenchLook, points: readonly Vec3[]): void
  setColours(colours: ThemeColours): void
  resize(width: number, height: number): void
  dispose(): void
}

const BENCH_MM = 1600

/** The bender in three dimensions, drawn only when something changed. @throws when the browser gives no WebGL. */
export function benchStage(
  canvas: HTMLCanvasElement,
  bender: Bender,
  tooling: Tooling,
  wall: number,
  plain: boolean,
): BenchStage {
  const renderer = new WebGLRenderer({ canvas, antialias: !plain, alpha: true })
  renderer.setPixelRatio(plain ? 1 : Math.min(2, window.devicePixelRatio))
  const scene = new Scene()
  const camera = new PerspectiveCamera(36, 1, 5, 20_000)
  camera.up.set(0, 0, 1)
  const controls = new OrbitControls(camera, canvas)
  controls.enableDamping = false

  const material = () => new MeshLambertMaterial({ transparent: false })
  const paint = {
    tube: material(),
    bend: material(),
    hit: material(),
    benchHit: material(),
    housing: material(),
    arm: material(),
    die: material(),
    bench: material(),
    mark: material(),
    edge: new LineBasicMaterial(),
  }
  const sky = new HemisphereLight(0xffffff, 0x8a8f8c, 1.5)
  const sun = new DirectionalLight(0xffffff, 1.7)
  sun.position.set(-300, -400, 700)
  scene.add(sky, sun)

  const bySolid = new Map<string, { mesh: Mesh; own: MeshLambertMaterial }>()
  const solid = (s: BenchSolid, own: MeshLambertMaterial, into: Group) => {
    const { shape, place } = shapeOf(s, plain)
    const mesh = new Mesh(shape, own)
    mesh.applyMatrix4(place)
    mesh.add(new LineSegments(new EdgesGeometry(shape, 30), paint.edge))
    into.add(mesh)
    bySolid.set(s.name, { mesh, own })
  }
  const standing = new Group()
  for (const s of bender.housing) solid(s, paint.housing, standing)

  const left = bender.hand === 'left' ? 1 : -1
  const { clr, od } = tooling
  const pivot = new Group()
  pivot.position.set(0, left * clr, 0)
  const arm = new Group()
  arm.position.set(0, 0 - left * clr, 0)
  pivot.add(arm)
  for (const s of bender.arm) solid(s, paint.arm, arm)

  const around = plain ? 40 : 72
  const disc = (radius: number, height: number, z: number) => {
    const mesh = new Mesh(
      new CylinderGeometry(radius, radius, height, around).rotateX(Math.PI / 2),
      paint.die,
    )
    mesh.position.set(0, left * clr, z)
    return mesh
  }
  standing.add(
    disc(Math.max(1, clr - od / 2), 1.7 * od, 0),
    disc(clr, od * 0.3, od * 0.72),
    disc(clr, od * 0.3, -od * 0.72),
  )
  const line = new Mesh(new ConeGeometry(od * 0.22, od * 0.7, 16).rotateX(-Math.PI / 2), paint.mark)
  line.position.set(0 - tooling.referenceOffset, 0, od * 1.35)
  standing.add(line)
  scene.add(standing, pivot)
  const top = benchTop(bender)
  if (top) {
    const mesh = new Mesh(top, paint.bench)
    scene.add(mesh)
    bySolid.set('bench top', { mesh, own: paint.bench })
  }

  const pencil = new Mesh(new TorusGeometry(od * 0.52, od * 0.06, 8, 40).rotateY(Math.PI / 2), paint.mark)
  scene.add(pencil)
  const tube = new Mesh(new BufferGeometry(), [paint.tube, paint.bend, paint.hit])
  scene.add(tube)

  const draw = () => renderer.render(scene, camera)
  let framed: { readonly from: BenchLook; readonly points: readonly Vec3[] } | null = null
  const frame = () => {
    if (framed) {
      const forward = towards(framed.from, left)
      const at = frameView(framed.points, forward, camera.fov, camera.aspect)
      camera.position.set(...at)
      // Turning the picture by hand goes about what lies at the die's distance.
      const depth = Math.max(10, 0 - dot(at, forward))
      controls.target.set(...addScaled(at, forward, depth))
      controls.update()
    }
    draw()
  }
  controls.addEventListener('change', draw)
  const onLost = (event: Event) => event.preventDefault()
  canvas.addEventListener('webglcontextlost', onLost)
  canvas.addEventListener('webglcontextrestored', draw)

  return {
    show(at, lit, mark) {
      tube.geometry.dispose()
      tube.geometry = geometryOf(at.pieces, lit?.part ?? null, od, wall, plain)
      pivot.rotation.z = armSense(bender) * at.dieAngle * DEG
      for (const [name, { mesh, own }] of bySolid)
        mesh.material = name !== lit?.solid ? own : own === paint.bench ? paint.benchHit : paint.hit
      pencil.visible = mark !== null
      if (mark !== null) pencil.position.set(mark, 0, 0)
      draw()
    },
    look(from, points) {
      framed = { from, points }
      frame()
    },
    setColours(colours) {
      paint.tube.color.copy(colours.tube)
      paint.bend.color.copy(colours['tube-bend'])
      paint.hit.color.copy(colours.error)
      paint.hit.emissive.copy(colours.error).multiplyScalar(0.35)
      paint.housing.color.copy(colours['line-strong'])
      paint.arm.color.copy(colours.note)
      paint.die.color.copy(colours['ink-3'])
      paint.bench.color.copy(colours.grid)
      // The whole bench in full red would drown the tube.
      paint.benchHit.color.copy(colours.grid).lerp(colours.error, 0.35)
      paint.mark.color.copy(colours.select)
      paint.mark.emissive.copy(colours.select).multiplyScalar(0.4)
      paint.edge.color.copy(colours['ink-2'])
      draw()
    },
    resize(width, height) {
      renderer.setSize(width, height, false)
      camera.aspect = width / height
      camera.updateProjectionMatrix()
      frame()
    },
    dispose() {
      controls.dispose()
      canvas.removeEventListener('webglcontextlost', onLost)
      canvas.removeEventListener('webglcontextrestored', draw)
      scene.traverse(o => {
        if (o instanceof Mesh || o instanceof LineSegments) (o.geometry as BufferGeometry).dispose()
      })
      for (const m of Object.values(paint)) m.dispose()
      renderer.dispose()
    },
  }
}

function geometryOf(
  pieces: readonly Piece[],
  lit: Lit['part'],
  od: number,
  wall: number,
  plain: boolean,
): BufferGeometry {
  const mesh = tubeMesh(pieces, od, wall, plain ? PLAIN_DETAIL : FULL_DETAIL)
  const geometry = tubeBuffers(mesh)
  let after = 0
  pieces.forEach((p, i) => {
    const range = mesh.ranges[i]!
    const isLit =
      lit !== null &&
      (p.kind === 'line'
        ? lit.kind === 'straight' && p.straight === lit.index
        : lit.kind === 'bend' && p.bend === lit.index)
    geometry.addGroup(range.start, range.count, isLit ? 2 : p.kind === 'arc' ? 1 : 0)
    after = Math.max(after, range.start + range.count)
  })
  geometry.addGroup(after, mesh.index.length - after, 0)
  return geometry
}

/** Unit vector that a look goes along, on a bender of this hand (left: 1, right: -1). */
function towards(from: BenchLook, left: number): Vec3 {
  const ways: Record<BenchLook, Vec3> = {
    tail: [0.8, 0.2 * left, -0.56],
    above: [0.02, 0, -1],
    side: [0.12, 0.86 * left, -0.42],
  }
  return unit(ways[from]) ?? [1, 0, 0]
}

const v = (p: Vec3) => new Vector3(...p)

function shapeOf(s: BenchSolid, plain: boolean): { shape: BufferGeometry; place: Matrix4 } {
  if (s.shape === 'cylinder') {
    const z = unit(s.axis) ?? [0, 0, 1]
    const x = anySquareTo(z)
    return {
      shape: new CylinderGeometry(s.radius, s.radius, s.length, plain ? 32 : 56).rotateX(Math.PI / 2),
      place: new Matrix4().makeBasis(v(x), v(cross(z, x)), v(z)).setPosition(v(s.at)),
    }
  }
  const axis = (e: Vec3) =>
    v(
      turnDirection(
        turnDirection(turnDirection(e, [1, 0, 0], s.turn[0] * DEG), [0, 1, 0], s.turn[1] * DEG),
        [0, 0, 1],
        s.turn[2] * DEG,
      ),
    )
  return {
    shape: new BoxGeometry(...s.size),
    place: new Matrix4().makeBasis(axis([1, 0, 0]), axis([0, 1, 0]), axis([0, 0, 1])).setPosition(v(s.at)),
  }
}

/** The bench top as far as it is drawn, ending at its edge; null for a free-standing bender. */
function benchTop(bender: Bender): BufferGeometry | null {
  if (bender.benchTop === null) return null
  const plane = new PlaneGeometry(BENCH_MM, BENCH_MM)
  if (bender.benchEdge) {
    const { at, outward } = bender.benchEdge
    const angle = Math.atan2(outward[1], outward[0])
    plane.translate(-BENCH_MM / 2, 0, 0)
    plane.rotateZ(angle)
    plane.translate(at[0], at[1], 0)
  }
  return plane.translate(0, 0, bender.benchTop)
}
