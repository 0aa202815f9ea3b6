import { useMemo } from 'react'
import { useStore } from 'zustand'
import type { Guide } from '../sceneStore.ts'
import { sceneStore } from '../sceneStore.ts'
import type { ThemeColours } from '../themeColours.ts'
import { Dashes } from './Dashes.tsx'

/** Lines that explain a gesture: what a point has snapped to, the locked axis, the leg to come. */
export function Guides({ colours }: { colours: ThemeColours }) {
  const guides = useStore(sceneStore, s => s.guides)
  const of = useMemo(() => {
    const pairs = (kind: Guide['kind']) => guides.filter(g => g.kind === kind).flatMap(g => [g.from, g.to])
    return { snap: pairs('snap'), lock: pairs('lock'), next: pairs('next') }
  }, [guides])
  return (
    <>
      <Dashes points={of.snap} colour={colours.note} width={1.5} />
      <Dashes points={of.lock} colour={colours.select} width={1.5} />
      <Dashes points={of.next} colour={colours.select} width={2} />
    </>
  )
}
