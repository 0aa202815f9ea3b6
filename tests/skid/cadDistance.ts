import type { OpenCascadeInstance, TopoDS_Shape } from 'replicad-opencascadejs'
import type { Solid } from '../../src/document/types.ts'
import type { Vec3 } from '../../src/geometry/vec3.ts'

/** Least distance between two solids by the CAD kernel, mm ≥ 0 (0 when they overlap). */
export function cadDistance(oc: OpenCascadeInstance, a: TopoDS_Shape, b: TopoDS_Shape): number {
  const extrema = new oc.BRepExtrema_DistShapeShape(a, b)
  try {
    if (!extrema.IsDone()) throw new Error('cadDistance: the kernel found no distance')
    return extrema.InnerSolution() ? 0 : extrema.Value()
  } finally {
    extrema.delete()
  }
}

/** The document's solid built by the CAD kernel's own primitives and its own turns. Planes have none. */
export function cadSolid(oc: OpenCascadeInstance, solid: Solid): TopoDS_Shape {
  const point = (p: Vec3) => new oc.gp_Pnt(p[0], p[1], p[2])
  if (solid.shape === 'sphere') return new oc.BRepPrimAPI_MakeSphere(point(solid.at), solid.radius).Shape()
  if (solid.shape === 'cylinder') {
    const [x, y, z] = solid.axis
    const l = Math.hypot(x, y, z)
    const half = solid.length / 2 / l
    const foot: Vec3 = [solid.at[0] - x * half, solid.at[1] - y * half, solid.at[2] - z * half]
    const axes = new oc.gp_Ax2(point(foot), new oc.gp_Dir(x, y, z))
    return new oc.BRepPrimAPI_MakeCylinder(axes, solid.radius, solid.length).Shape()
  }
  if (solid.shape === 'plane') throw new Error('cadSolid: found a plane, wanted a bounded solid')
  const [sx, sy, sz] = solid.size
  let shape: TopoDS_Shape = new oc.BRepPrimAPI_MakeBox(
    point([-sx / 2, -sy / 2, -sz / 2]),
    point([sx / 2, sy / 2, sz / 2]),
  ).Shape()
  const origin = new oc.gp_Pnt(0, 0, 0)
  const axes: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ]
  axes.forEach((axis, k) => {
    const turn = new oc.gp_Trsf()
    turn.SetRotation(
      new oc.gp_Ax1(origin, new oc.gp_Dir(axis[0], axis[1], axis[2])),
      (solid.turn[k]! * Math.PI) / 180,
    )
    shape = new oc.BRepBuilderAPI_Transform(shape, turn, true).Shape()
  })
  const move = new oc.gp_Trsf()
  move.SetTranslation(new oc.gp_Vec(solid.at[0], solid.at[1], solid.at[2]))
  return new oc.BRepBuilderAPI_Transform(shape, move, true).Shape()
}
