import { lazy, Suspense, useEffect } from 'react'
import { startClearance } from '../store/clearance.ts'
import { startHousing } from '../store/housing.ts'
import type { Mode } from '../store/sessionStore.ts'
import { startModelsWhenNeeded } from '../store/startModelsWhenNeeded.ts'
import { followMode } from './bending/followMode.ts'
import { LayingOutView } from './LayingOutView.tsx'
import { StatusBar } from './shell/StatusBar.tsx'
import { startShell } from './shell/startShell.ts'
import { TopBar } from './shell/TopBar.tsx'
import { UpdateNotice } from './shell/UpdateNotice.tsx'
import { useSession } from './useStore.ts'

const VIEWS: Record<Mode, React.ComponentType> = {
  layingOut: LayingOutView,
  bending: lazy(async () => ({ default: (await import('./bending/BendingView.tsx')).BendingView })),
  reviewing: lazy(() => import('./reviewing/ReviewingView.tsx')),
}

export function App() {
  useEffect(() => startShell(), [])
  useEffect(() => followMode(), [])
  useEffect(() => startClearance(), [])
  useEffect(() => startHousing(), [])
  useEffect(() => startModelsWhenNeeded(), [])
  const View = VIEWS[useSession(state => state.mode)]
  return (
    <div className="app">
      <TopBar />
      <Suspense fallback={<main className="loading">Loading…</main>}>
        <View />
      </Suspense>
      <UpdateNotice />
      <StatusBar />
    </div>
  )
}
