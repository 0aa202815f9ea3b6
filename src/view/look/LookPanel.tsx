import { useEffect, useRef } from 'react'
import { useStore } from 'zustand'
import { lookStore, showPanel, type LookPanel as Which } from '../../store/lookStore.ts'
import type { Stage } from '../scene/stage.ts'
import { MeasurePanel } from './MeasurePanel.tsx'
import { SectionPanel } from './SectionPanel.tsx'
import { ViewpointsPanel } from './ViewpointsPanel.tsx'
import './look.css'

const TITLES: Readonly<Record<Which, string>> = {
  section: 'Section plane',
  measure: 'Measure',
  viewpoints: 'Saved views',
}

/** The folded-out panel. It takes the focus when it opens, and gives it back to the picture when it is folded in. */
export default function LookPanel({ panel, stage }: { readonly panel: Which; readonly stage: Stage }) {
  const box = useRef<HTMLElement>(null)
  const serial = useStore(lookStore, s => s.focusSerial)
  // biome-ignore lint/correctness/useExhaustiveDependencies: opened again it takes the focus again
  useEffect(() => {
    box.current?.querySelector<HTMLElement>('[data-first]')?.focus({ preventScroll: true })
  }, [panel, serial])
  useEffect(() => {
    const own = box.current
    return () => {
      const focused = document.activeElement
      if (focused && focused !== document.body && !own?.contains(focused)) return
      document.querySelector<HTMLElement>('.sceneHost canvas')?.focus({ preventScroll: true })
    }
  }, [])
  return (
    <section
      className="lookPanel"
      ref={box}
      aria-label={TITLES[panel]}
      onKeyDown={event => {
        if (event.key !== 'Escape' || event.defaultPrevented || panel === 'measure') return
        event.stopPropagation()
        event.preventDefault()
        showPanel(null)
      }}
    >
      <header>
        <h2>{TITLES[panel]}</h2>
        <button
          type="button"
          aria-label="Close panel"
          title="Close panel (Esc)"
          onClick={() => showPanel(null)}
        >
          ×
        </button>
      </header>
      {panel === 'section' && <SectionPanel stage={stage} />}
      {panel === 'measure' && <MeasurePanel stage={stage} />}
      {panel === 'viewpoints' && <ViewpointsPanel stage={stage} />}
    </section>
  )
}
