import { BendTable } from './panels/BendTable.tsx'
import { FindingsList } from './panels/FindingsList.tsx'
import { Inspector } from './panels/Inspector.tsx'
import { PointTable } from './panels/PointTable.tsx'
import { RunList } from './panels/RunList.tsx'
import { UnrolledTube } from './panels/UnrolledTube.tsx'
import { Scene } from './scene/Scene.tsx'
import { useShown } from './useStore.ts'

/** The route in 3D, the tube unrolled, and the tables of both. */
export function LayingOutView() {
  // Without a run there is no tube and no table to show: the picture has the room.
  const hasRuns = useShown().runs.length > 0
  return (
    <main className={hasRuns ? 'layingOut' : 'layingOut no-runs'}>
      <section className="left" aria-label="Runs">
        <RunList />
      </section>
      <section className="stage" aria-label="Skid in 3D">
        <Scene />
      </section>
      <section className="right">
        <Inspector />
        <FindingsList />
      </section>
      {hasRuns && (
        <section className="dock">
          <UnrolledTube />
          <div className="tables">
            <PointTable />
            <BendTable />
          </div>
        </section>
      )}
    </main>
  )
}
