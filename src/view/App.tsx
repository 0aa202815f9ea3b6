import { type ComponentType, lazy, Suspense, useEffect, useState } from 'react'
import type { Mode } from '../store/sessionStore.ts'
import { startStores } from '../store/startStores.ts'
import { followMode } from './bending/followMode.ts'
import { Boundary } from './FailedView.tsx'
import { LayingOutView } from './LayingOutView.tsx'
import { followSpoken } from './shell/followSpoken.ts'
import { keepFocus } from './shell/keepFocus.ts'
import { MODES } from './shell/modes.ts'
import { StatusBar } from './shell/StatusBar.tsx'
import { startShell } from './shell/startShell.ts'
import { TopBar } from './shell/TopBar.tsx'
import { UpdateNotice } from './shell/UpdateNotice.tsx'
import { useDocument, useSession } from './useStore.ts'

interface Way {
  readonly name: string
  readonly load: () => ComponentType
}
/** A view that could not be fetched is fetched anew when it is made anew. */
const VIEWS: Record<Mode, Way> = {
  layingOut: { name: 'Layout', load: () => LayingOutView },
  bending: {
    name: 'Bend',
    load: () => lazy(async () => ({ default: (await import('./bending/BendingView.tsx')).BendingView })),
  },
  reviewing: { name: 'Review', load: () => lazy(() => import('./reviewing/ReviewingView.tsx')) },
}

export function App() {
  useEffect(() => startStores(), [])
  useEffect(() => startShell(), [])
  useEffect(() => followMode(), [])
  useEffect(() => keepFocus(), [])
  useEffect(() => followSpoken(), [])
  const mode = useSession(state => state.mode)
  const name = useDocument(state => state.document.name)
  return (
    <div className="app">
      <Boundary what="The top bar">
        <TopBar />
      </Boundary>
      <h1 className="view-title hidden-label" tabIndex={-1}>
        {MODES.find(m => m.mode === mode)?.label}: {name}
      </h1>
      <ViewOf key={mode} mode={mode} />
      <Boundary what="The status line">
        <UpdateNotice />
        <StatusBar />
      </Boundary>
    </div>
  )
}

function ViewOf({ mode }: { readonly mode: Mode }) {
  const { name, load } = VIEWS[mode]
  const [View, setView] = useState(load)
  return (
    <Boundary what={name} again={() => setView(load)}>
      <Suspense fallback={<main className="loading">Loading…</main>}>
        <View />
      </Suspense>
    </Boundary>
  )
}
