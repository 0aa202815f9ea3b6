import { useEffect, useMemo, useRef } from 'react'
import type { Model } from '../../document/types.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import type { ReadModel } from '../../skid/models/modelTypes.ts'
import { drawPreview, sampleModel } from './drawPreview.ts'

interface Props {
  readonly read: Pick<ReadModel, 'parts'>
  readonly unitMm: number
  readonly up: Model['up']
  /** What stands on the skid so far, for comparison; null when nothing does. */
  readonly skid: { readonly low: Vec3; readonly high: Vec3 } | null
  readonly label: string
}

/** The model seen from its front right, from above, in the frame of what is on the skid so far. */
export function ModelPreview({ read, unitMm, up, skid, label }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const sample = useMemo(() => sampleModel(read), [read])
  useEffect(() => {
    const element = canvas.current
    const pen = element?.getContext('2d')
    if (!element || !pen) return
    // Twice as fine as the page at least: shrunk again, its edges are smooth.
    const dense = 2
    const { width, height } = element.getBoundingClientRect()
    element.width = Math.round(width * dense)
    element.height = Math.round(height * dense)
    pen.scale(dense, dense)
    const style = getComputedStyle(element)
    drawPreview(pen, { width, height, dense }, read.parts, sample, {
      unitMm,
      up,
      skid,
      ink: style.getPropertyValue('--note'),
      ground: style.getPropertyValue('--panel-2'),
      frame: style.getPropertyValue('--ink-3'),
      axis: style.getPropertyValue('--select'),
    })
  }, [read, sample, unitMm, up, skid])
  return <canvas ref={canvas} className="model-preview" role="img" aria-label={label} />
}
