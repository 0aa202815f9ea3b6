import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { Vec3 } from '../../../geometry/vec3.ts'
import { measureStore } from '../../../store/measureStore.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** The measured distance as a line between the nearest places, and what the pointer would take; through everything. */
export function MeasureMark({ colours }: { readonly colours: ThemeColours }) {
  const isOn = useStore(sessionStore, s => s.tool === 'measure')
  const drawn = useStore(measureStore, s => s.drawn)
  const hint = useStore(measureStore, s => s.hint)
  const line = useMemo((): Vec3[] => (drawn ? [drawn.from, drawn.to] : []), [drawn])
  if (!isOn) return null
  return (
    <>
      <Dashes points={hint} colour={colours.select} width={3} />
      <Dashes points={line} colour={colours.panel} width={6} />
      <Dashes points={line} colour={colours.accent} width={2.5} />
    </>
  )
}
