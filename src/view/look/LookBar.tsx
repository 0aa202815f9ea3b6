import { lazy, Suspense } from 'react'
import { useStore } from 'zustand'
import { type LookPanel, lookStore, showPanel } from '../../store/lookStore.ts'
import type { Stage } from '../scene/stage.ts'
import { useOneStop } from '../useOneStop.ts'
import { useSession } from '../useStore.ts'
import { toggleMeasure, toggleSection, toggleViews } from './lookActions.ts'
import './lookBar.css'

const Panel = lazy(() => import('./LookPanel.tsx'))

const TOOLS: readonly {
  readonly panel: LookPanel
  readonly word: string
  readonly key: string
  readonly press: () => void
}[] = [
  { panel: 'section', word: 'Section', key: 'S', press: toggleSection },
  { panel: 'measure', word: 'Measure', key: 'M', press: toggleMeasure },
  { panel: 'viewpoints', word: 'Saved views', key: 'V V', press: toggleViews },
]

/** Ways to look closer: each button folds out a panel over the picture. */
export function LookBar({ stage }: { readonly stage: Stage }) {
  const folded = useStore(lookStore, s => s.panel)
  const shown = useSession(s => s.tool) === 'measure' ? 'measure' : folded
  const isCut = useSession(s => s.section !== null)
  const stop = useOneStop<HTMLDivElement>()
  return (
    <>
      <div className="sceneBar look" role="toolbar" aria-label="Look closer" {...stop}>
        {TOOLS.map(({ panel, word, key, press }) => (
          <button
            type="button"
            key={panel}
            aria-expanded={shown === panel}
            aria-pressed={panel === 'section' ? isCut : undefined}
            className={shown === panel ? 'foldedOut' : undefined}
            aria-keyshortcuts={key.length === 1 ? key.toLowerCase() : undefined}
            onClick={() => {
              if (panel === 'section' && isCut) showPanel(shown === panel ? null : panel)
              else press()
            }}
          >
            {word} <kbd>{key}</kbd>
          </button>
        ))}
      </div>
      {shown && (
        <Suspense fallback={null}>
          <Panel panel={shown} stage={stage} />
        </Suspense>
      )}
    </>
  )
}
