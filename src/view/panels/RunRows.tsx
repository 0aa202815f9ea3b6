import {
  type KeyboardEvent,
  type MouseEvent,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import { useStore } from 'zustand'
import { documentStore } from '../../store/documentStore.ts'
import {
  pickedOf,
  pickNone,
  pickRange,
  pickRuns,
  runSelectionStore,
  startRangeAt,
  togglePicked,
} from '../../store/runSelection.ts'
import { runIdOf, sessionStore } from '../../store/sessionStore.ts'
import { lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import { RunRowView } from './RunRowView.tsx'
import { deleteRuns } from './runActions.ts'
import type { RunRow } from './runRows.ts'
import { scrollToRow, useRowsInView } from './useRowsInView.ts'

/** A finger needs more, px. */
const rowHeight = () => (window.matchMedia('(pointer: coarse)').matches ? 50 : 44)

/** The rows of the list, of which those in sight are in the page; keys and clicks choose, pick and delete runs. */
export function RunRows({ rows }: { rows: readonly RunRow[] }) {
  const { unit, hiddenRuns, runInHand, selection, hover, hoverWith } = useSession(s => s)
  const picked = useStore(runSelectionStore, s => s.picked)
  const list = useRef<HTMLDivElement>(null)
  const [at, setAt] = useState<string | null>(null)
  const focusNext = useRef(false)
  const height = rowHeight()
  const { from, to } = useRowsInView(list, rows.length, height)
  const places = useMemo(() => new Map(rows.map((row, i) => [row.id, i])), [rows])
  const activeId = [at, runInHand].find(id => id !== null && places.has(id)) ?? rows[0]?.id ?? null
  const active = activeId === null ? -1 : places.get(activeId)!

  // Chosen in the picture or elsewhere: the list comes to it, unless its own keys are going through other rows.
  useEffect(() => setAt(runInHand), [runInHand])
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is typed in the filter may move rows; that does not scroll
  useEffect(() => {
    if (list.current && active >= 0) scrollToRow(list.current, active, height)
  }, [activeId, height])
  useLayoutEffect(() => {
    if (!focusNext.current) return
    focusNext.current = false
    list.current?.querySelector<HTMLElement>('[role=row][tabindex="0"]')?.focus({ preventScroll: true })
  })

  const goTo = (place: number) => {
    const row = rows[Math.max(0, Math.min(rows.length - 1, place))]
    focusNext.current = true
    setAt(row?.id ?? null)
    return row?.id ?? null
  }
  const choose = (id: string) => {
    setAt(id)
    startRangeAt(id)
    sessionStore.getState().select({ kind: 'run', run: id })
  }
  const order = () => rows.map(r => r.id)

  const onClick = (event: MouseEvent<HTMLElement>) => {
    const target = event.target as HTMLElement
    const id = target.closest<HTMLElement>('[data-run]')?.dataset['run']
    if (id === undefined || target.closest('button')) return
    if (event.shiftKey) {
      pickRange(order(), id)
      setAt(id)
    } else if (event.ctrlKey || event.metaKey || target.closest('.run-pick')) {
      togglePicked(id)
      setAt(id)
    } else choose(id)
  }

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const target = event.target as HTMLElement
    const id = target.closest<HTMLElement>('[data-run]')?.dataset['run']
    const now = id === undefined ? undefined : places.get(id)
    if (id === undefined || now === undefined) return
    const done = () => {
      event.preventDefault()
      event.stopPropagation()
    }
    const page = Math.max(1, Math.floor((list.current?.clientHeight ?? height) / height) - 1)
    const next = {
      ArrowDown: now + 1,
      ArrowUp: now - 1,
      PageDown: now + page,
      PageUp: now - page,
      Home: 0,
      End: rows.length - 1,
    }[event.key]
    if (next !== undefined) {
      if (event.altKey || event.ctrlKey || event.metaKey) return
      done()
      if (
        event.shiftKey &&
        (runSelectionStore.getState().anchor === null || !places.has(runSelectionStore.getState().anchor!))
      )
        startRangeAt(id)
      const to = goTo(next)
      if (to === null) return
      if (event.shiftKey) pickRange(order(), to)
      else choose(to)
    } else if (event.key === 'Delete') {
      done()
      const { runs } = documentStore.getState().settled
      deleteRuns(picked.has(id) ? pickedOf(runs, picked) : runs.filter(r => r.id === id))
      const left = rows.filter(r => r.id !== id && !(picked.has(id) && picked.has(r.id)))
      const after = left.find(r => places.get(r.id)! > now) ?? left.at(-1)
      focusNext.current = true
      setAt(after?.id ?? null)
    } else if (event.key.toLowerCase() === 'a' && (event.ctrlKey || event.metaKey)) {
      done()
      pickRuns(order())
      sessionStore.getState().say(`${rows.length} runs selected.`)
    } else if (event.key === 'Escape' && picked.size > 0) {
      done()
      pickNone()
      sessionStore.getState().say('No run is selected.')
    } else if (target.getAttribute('role') === 'row' && event.key === ' ') {
      done()
      togglePicked(id)
    } else if (target.getAttribute('role') === 'row' && event.key === 'Enter') {
      done()
      choose(id)
    }
  }

  const inPage = rows.slice(from, to).map((row, i) => ({ row, place: from + i }))
  // The row that has the focus, or that Tab comes to, stays in the page wherever the list is scrolled to.
  if (active >= 0 && active < from) inPage.unshift({ row: rows[active]!, place: active })
  if (active >= to) inPage.push({ row: rows[active]!, place: active })
  return (
    // biome-ignore lint/a11y/useSemanticElements: a table cannot leave out the rows that are out of sight
    <div
      ref={list}
      role="grid"
      aria-label="Runs"
      aria-rowcount={rows.length}
      aria-colcount={7}
      aria-multiselectable
      className="run-list"
      onClick={onClick}
      onDoubleClick={() => sessionStore.getState().look({ kind: 'fitSelection' })}
      onKeyDown={onKeyDown}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: as above */}
      <div role="rowgroup" className="run-rows" style={{ height: rows.length * height }}>
        {inPage.map(({ row, place }) => (
          <RunRowView
            key={row.id}
            {...row}
            place={place}
            height={height}
            unit={lengthUnitWord(unit)}
            active={place === active}
            inHand={row.id === runInHand}
            selected={selection?.kind === 'run' && selection.run === row.id}
            hovered={runIdOf(hover) === row.id || runIdOf(hoverWith) === row.id}
            picked={picked.has(row.id)}
            hidden={hiddenRuns.has(row.id)}
          />
        ))}
      </div>
    </div>
  )
}
