import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import init, { type OpenCascadeInstance } from 'replicad-opencascadejs'
import type { Piece } from '../src/solve/types.ts'

let loaded: Promise<OpenCascadeInstance> | null = null

/** The general-purpose CAD kernel (OpenCascade), loaded once per test file. */
export function cadKernel(): Promise<OpenCascadeInstance> {
  const wasm = createRequire(import.meta.url).resolve('replicad-opencascadejs/wasm')
  // biome-ignore lint/suspicious/noExplicitAny: the kernel's loader takes emscripten options its types leave out
  loaded ??= (init as any)({ wasmBinary: readFileSync(wasm) }) as Promise<OpenCascadeInstance>
  return loaded
}

/** The kernel's own wire of lines and circle arcs along a centre line, and the solid swept along it. */
export function sweptSolid(oc: OpenCascadeInstance, pieces: readonly Piece[], od: number) {
  const point = (p: readonly number[]) => new oc.gp_Pnt(p[0]!, p[1]!, p[2]!)
  const wire = new oc.BRepBuilderAPI_MakeWire()
  for (const piece of pieces) {
    if (piece.kind === 'line') {
      wire.Add(new oc.BRepBuilderAPI_MakeEdge(point(piece.start), point(piece.end)).Edge())
      continue
    }
    const normal = new oc.gp_Dir(piece.normal[0], piece.normal[1], piece.normal[2])
    const circle = new oc.gp_Circ(new oc.gp_Ax2(point(piece.centre), normal), piece.radius)
    wire.Add(new oc.BRepBuilderAPI_MakeEdge(circle, point(piece.start), point(piece.end)).Edge())
  }
  const first = pieces[0]!
  if (first.kind !== 'line') throw new Error('sweptSolid: found an arc first, wanted a line')
  const axes = new oc.gp_Ax2(
    point(first.start),
    new oc.gp_Dir(first.direction[0], first.direction[1], first.direction[2]),
  )
  const circle = new oc.BRepBuilderAPI_MakeEdge(new oc.gp_Circ(axes, od / 2)).Edge()
  const face = new oc.BRepBuilderAPI_MakeFace(new oc.BRepBuilderAPI_MakeWire(circle).Wire(), false).Face()
  return { wire: wire.Wire(), solid: new oc.BRepOffsetAPI_MakePipe(wire.Wire(), face).Shape() }
}
