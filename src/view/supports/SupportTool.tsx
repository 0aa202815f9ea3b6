import { useEffect } from 'react'
import type { Stage } from '../scene/stage.ts'
import { supportTool } from './supportTool.ts'

/** While it is there, clicks put supports on the run in hand. */
export default function SupportTool({ stage }: { readonly stage: Stage }) {
  useEffect(() => supportTool(stage), [stage])
  return null
}
