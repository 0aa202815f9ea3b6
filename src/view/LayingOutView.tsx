import { BendTable } from './panels/BendTable.tsx'
import { FindingsList } from './panels/FindingsList.tsx'
import { Inspector } from './panels/Inspector.tsx'
import { PointTable } from './panels/PointTable.tsx'
import { RunList } from './panels/RunList.tsx'
import { UnrolledTube } from './panels/UnrolledTube.tsx'
import { Scene } from './scene/Scene.tsx'

/** The route in 3D, the tube unrolled, and the tables of both. */
export function LayingOutView() {
  return (
    <main className="layingOut">
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
      <section className="dock">
        <UnrolledTube />
        <div className="tables">
          <PointTable />
          <BendTable />
        </div>
      </section>
    </main>
  )
}
