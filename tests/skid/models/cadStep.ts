import type { OpenCascadeInstance, TopoDS_Shape } from 'replicad-opencascadejs'

/** A named shape, and where it stands in its assembly: a shift, mm, and a turn about z, degrees. */
export interface NamedShape {
  readonly name: string
  readonly shape: TopoDS_Shape
  readonly shift?: readonly [number, number, number]
  readonly turnDeg?: number
}

/**
 * A STEP file as the general-purpose CAD kernel writes it: one assembly of the shapes, with their names.
 *
 * @param unit of the file; shapes are given in mm whatever it is.
 */
export function stepOf(
  oc: OpenCascadeInstance,
  assembly: string,
  shapes: readonly NamedShape[],
  unit: 'MM' | 'INCH' = 'MM',
): Uint8Array<ArrayBuffer> {
  const text = (s: string) => new oc.TCollection_ExtendedString(s, true)
  const document = new oc.TDocStd_Document(text('MDTV-XCAF'))
  // biome-ignore lint/suspicious/noExplicitAny: the kernel's types leave out what its handles carry
  const tools = oc as any
  const tool = tools.XCAFDoc_DocumentTool.ShapeTool(document.Main())
  const top = tool.NewShape()
  tools.TDataStd_Name.Set(top, text(assembly))
  for (const { name, shape, shift = [0, 0, 0], turnDeg = 0 } of shapes) {
    const label = tool.AddShape(shape, false, true)
    tools.TDataStd_Name.Set(label, text(name))
    const turn = new oc.gp_Trsf()
    turn.SetRotation(new oc.gp_Ax1(new oc.gp_Pnt(0, 0, 0), new oc.gp_Dir(0, 0, 1)), (turnDeg * Math.PI) / 180)
    const move = new oc.gp_Trsf()
    move.SetTranslation(new oc.gp_Vec(shift[0], shift[1], shift[2]))
    move.Multiply(turn)
    const component = tool.AddComponent(top, label, new oc.TopLoc_Location(move))
    tools.TDataStd_Name.Set(component, text(name))
  }
  tool.UpdateAssemblies()
  // A writer has to be there before the kernel knows of its settings.
  const writer = new oc.STEPCAFControl_Writer()
  if (!oc.Interface_Static.SetCVal('write.step.unit', unit))
    throw new Error(`stepOf: the kernel has no unit ${unit}`)
  const fresh = new oc.STEPCAFControl_Writer()
  writer.delete()
  fresh.SetNameMode(true)
  if (!fresh.Perform(document, '/made.step', new oc.Message_ProgressRange()))
    throw new Error('stepOf: the kernel wrote nothing')
  const bytes = tools.FS.readFile('/made.step') as Uint8Array
  tools.FS.unlink('/made.step')
  return new Uint8Array(bytes)
}
