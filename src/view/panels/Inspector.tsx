import { lazy, Suspense } from 'react'
import { runOf } from '../../document/lookUp.ts'
import { useShownCalmly } from '../useCalmly.ts'
import { useSession } from '../useStore.ts'
import { InspectDocument } from './InspectDocument.tsx'
import './panels.css'
import './inspector.css'

/** Loaded with the first of their kind that is looked at. */
const InspectFitting = lazy(async () => ({ default: (await import('./InspectFitting.tsx')).InspectFitting }))
const InspectRun = lazy(async () => ({ default: (await import('./InspectRun.tsx')).InspectRun }))
const InspectPoint = lazy(async () => ({ default: (await import('./InspectPoint.tsx')).InspectPoint }))
const InspectStraight = lazy(async () => ({
  default: (await import('./InspectStraight.tsx')).InspectStraight,
}))
const InspectSolid = lazy(async () => ({ default: (await import('./InspectSolid.tsx')).InspectSolid }))
const InspectSupport = lazy(async () => ({ default: (await import('./InspectSupport.tsx')).InspectSupport }))
const InspectModel = lazy(() => import('./InspectModel.tsx'))

/** Every property of what is selected, as fields; of the document when nothing is. */
export function Inspector() {
  const document = useShownCalmly()
  const selection = useSession(state => state.selection)
  return (
    <section className="inspector" aria-label="Properties" tabIndex={-1}>
      <Suspense key={selection?.kind ?? 'document'} fallback={null}>
        {content()}
      </Suspense>
    </section>
  )

  function content() {
    if (selection?.kind === 'fitting') {
      const fitting = document.fittings.find(f => f.id === selection.fitting)
      if (fitting) return <InspectFitting key={fitting.id} document={document} fitting={fitting} />
    } else if (selection?.kind === 'solid') {
      const solid = document.solids.find(s => s.id === selection.solid)
      if (solid) return <InspectSolid key={solid.id} document={document} solid={solid} />
    } else if (selection?.kind === 'model') {
      const model = document.models.find(m => m.id === selection.model)
      if (model)
        return <InspectModel key={model.id} document={document} model={model} partKey={selection.key} />
    } else if (selection?.kind === 'support') {
      const support = document.supports.find(s => s.id === selection.support)
      if (support) return <InspectSupport key={support.id} document={document} support={support} />
    } else if (selection && 'run' in selection) {
      const run = runOf(document, selection.run)
      if (run && selection.kind === 'run') return <InspectRun key={run.id} document={document} run={run} />
      if (run && selection.kind === 'point')
        return (
          <InspectPoint
            key={`${run.id} ${selection.point}`}
            document={document}
            run={run}
            point={selection.point}
          />
        )
      if (run && selection.kind === 'straight')
        return (
          <InspectStraight
            key={`${run.id} ${selection.straight}`}
            document={document}
            run={run}
            straight={selection.straight}
          />
        )
    }
    return <InspectDocument document={document} />
  }
}
