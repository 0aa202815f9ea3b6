import { lazy, Suspense } from 'react'
import { useStore } from 'zustand'
import type { LengthUnit } from '../../document/quantity.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useOneStop } from '../useOneStop.ts'
import { useDocument, useSession } from '../useStore.ts'
import { redo, showUnit, toggleDetail, toggleRoute, undo } from './commands.ts'
import { DialogBoundary } from './DialogBoundary.tsx'
import { DocumentName } from './DocumentName.tsx'
import { dialogStore, showDialog } from './dialogStore.ts'
import { newDocument, openFromFile, save } from './documentActions.ts'
import { keyText } from './keyText.ts'
import { Menu } from './Menu.tsx'
import { ModeSwitch } from './ModeSwitch.tsx'
import { copyLink } from './shareActions.ts'
import type { TableKind } from './tables.ts'
import './shell.css'

const UNITS: readonly { unit: LengthUnit; label: string; title: string }[] = [
  { unit: 'mm', label: 'mm', title: 'Millimetres' },
  { unit: 'in', label: 'in', title: 'Decimal inches' },
  { unit: 'fraction', label: 'in ½', title: 'Fractional inches' },
]

/** Loaded with the first dialog. */
const ShellDialogs = lazy(async () => ({ default: (await import('./ShellDialogs.tsx')).ShellDialogs }))

/** Loaded with the first table that is saved. */
const saveTable = async (kind: TableKind) => (await import('./tables.ts')).exportTable(kind)

/** The bar along the top: the document, its history, how lengths and colours are shown. */
export function TopBar() {
  const undoLabel = useDocument(state => state.past.at(-1)?.label)
  const redoLabel = useDocument(state => state.future.at(-1)?.label)
  const invented = useDocument(state => state.document.invented)
  const unit = useSession(state => state.unit)
  const theme = useSession(state => state.theme)
  const detail = useSession(state => state.detail)
  const showRoute = useSession(state => state.showRoute)
  const asksSomething = useStore(dialogStore, state => state.dialog !== null)
  const units = useOneStop<HTMLFieldSetElement>()

  return (
    <header className="topBar">
      <span className="wordmark">Dogleg</span>
      <DocumentName />
      {invented && (
        <span className="chip" title="Demo data: nothing in it comes from a real plant">
          invented
        </span>
      )}
      <Menu
        label="Files"
        items={[
          { label: 'New skid', keys: keyText('Alt+N'), run: newDocument },
          { label: 'Open a file…', keys: keyText('Mod+O'), run: openFromFile },
          { label: 'Samples…', keys: keyText('Alt+S'), run: () => showDialog({ kind: 'samples' }) },
          {
            label: 'Saved in this browser…',
            keys: keyText('Alt+K'),
            run: () => showDialog({ kind: 'copies' }),
          },
          { label: 'Save', keys: keyText('Mod+S'), apart: true, run: () => save() },
          { label: 'Save as…', keys: keyText('Mod+Shift+S'), run: () => save('elsewhere') },
          {
            label: 'Paper and files…',
            keys: keyText('Mod+P'),
            apart: true,
            run: () => showDialog({ kind: 'paper' }),
          },
          {
            label: 'Import a model…',
            keys: keyText('Alt+I'),
            apart: true,
            run: () => showDialog({ kind: 'importModel', file: null, replaces: null }),
          },
          { label: 'Copy a link', run: () => void copyLink() },
          {
            label: 'Import a table…',
            keys: keyText('Alt+R'),
            apart: true,
            run: () => showDialog({ kind: 'importTable', source: null }),
          },
          { label: 'Points of this run as a table', run: () => saveTable('points') },
          { label: 'Bend rows of this run as a table', run: () => saveTable('rows') },
        ]}
      />
      <div className="buttonPair">
        <button
          type="button"
          disabled={!undoLabel}
          title={
            undoLabel
              ? `Undo: ${undoLabel} (${keyText('Mod+Z')})`
              : 'Nothing to undo: steps from before this skid was opened here are not kept'
          }
          onClick={undo}
        >
          Undo<span className="stepLabel">{undoLabel}</span>
        </button>
        <button
          type="button"
          disabled={!redoLabel}
          title={redoLabel ? `Redo: ${redoLabel} (${keyText('Mod+Shift+Z')})` : 'Nothing to redo'}
          onClick={redo}
        >
          Redo<span className="stepLabel">{redoLabel}</span>
        </button>
      </div>
      <ModeSwitch />
      <span className="spring" />
      <fieldset className="units" {...units}>
        <legend className="hidden-label">Unit of lengths</legend>
        {UNITS.map(u => (
          <button
            type="button"
            key={u.unit}
            title={u.title}
            aria-label={u.title}
            aria-pressed={unit === u.unit}
            onClick={() => showUnit(u.unit)}
          >
            {u.label}
          </button>
        ))}
      </fieldset>
      <Menu
        label="Display"
        items={[
          { label: 'Route legs', keys: 'R', checked: showRoute, run: toggleRoute },
          { label: 'Plain detail', keys: keyText('Alt+D'), checked: detail === 'plain', run: toggleDetail },
          ...(['system', 'light', 'dark'] as const).map((t, i) => ({
            label:
              t === 'system' ? 'Colours of the system' : t === 'light' ? 'Light colours' : 'Dark colours',
            checked: theme === t,
            apart: i === 0,
            run: () => sessionStore.getState().set({ theme: t }),
          })),
        ]}
      />
      <button type="button" title="Shortcuts (?)" onClick={() => showDialog({ kind: 'shortcuts' })}>
        Shortcuts
      </button>
      <DialogBoundary>
        {asksSomething && (
          <Suspense fallback={null}>
            <ShellDialogs />
          </Suspense>
        )}
      </DialogBoundary>
    </header>
  )
}
