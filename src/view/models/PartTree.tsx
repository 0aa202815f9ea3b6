import { Eye, EyeOff } from 'lucide-react'
import { type KeyboardEvent, useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'react'
import type { Model, ModelKind } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useSession } from '../useStore.ts'
import { hiddenShare, hideParts } from './hideBodies.ts'
import { MODEL_KIND_NAMES } from './modelWords.ts'
import { branchesAbove, type PartNode, type PartRow, partRows } from './partRows.ts'

/** Rows beyond what can be seen that are kept on the page, above and below. */
const SPARE_ROWS = 8
/** Six rows and a half, four with touch: half a row says that there is more, and what is below stays in sight. */
const TALLEST_PX = 176

interface Props {
  readonly model: Model
  readonly tree: readonly PartNode[]
  readonly all: readonly string[]
  readonly filter: string
  readonly active: PartNode | null
  readonly onActive: (node: PartNode) => void
}

/** The parts as the file orders them. One tab stop: arrows walk and open, Space hides and shows. */
export function PartTree({ model, tree, all, filter, active, onActive }: Props) {
  const id = useId()
  const box = useRef<HTMLDivElement>(null)
  const [expanded, setExpanded] = useState<ReadonlySet<string>>(() => firstOpen(tree))
  const [scrolled, setScrolled] = useState(0)
  const hidden = useSession(s => s.hiddenBodies)
  const coarse = useMemo(() => matchMedia('(pointer: coarse)').matches, [])
  const rowPx = coarse ? 44 : 26
  const own = useMemo(() => new Map(model.parts.map(p => [p.key, p.kind])), [model.parts])
  const rows = useMemo(() => partRows(tree, expanded, filter), [tree, expanded, filter])
  const at = rows.findIndex(r => r.node.id === active?.id)

  // What was picked in the picture is brought into sight here.
  const shownKey = active?.key ?? null
  useEffect(() => {
    if (shownKey === null) return
    const above = branchesAbove(tree, shownKey)
    setExpanded(open => (above.every(b => open.has(b)) ? open : new Set([...open, ...above])))
  }, [tree, shownKey])
  useLayoutEffect(() => {
    const list = box.current
    if (!list || at < 0) return
    const [top, bottom] = [at * rowPx, (at + 1) * rowPx]
    if (top < list.scrollTop) list.scrollTop = top
    else if (bottom > list.scrollTop + list.clientHeight) list.scrollTop = bottom - list.clientHeight
  }, [at, rowPx])

  const toggle = (node: PartNode, open: boolean) => {
    const next = new Set(expanded)
    if (open) next.add(node.id)
    else next.delete(node.id)
    setExpanded(next)
  }
  const go = (to: number) => {
    const row = rows[Math.max(0, Math.min(rows.length - 1, to))]
    if (row) onActive(row.node)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const row = rows[at]
    switch (event.key) {
      case 'ArrowDown':
        go(at + 1)
        break
      case 'ArrowUp':
        go(at < 0 ? 0 : at - 1)
        break
      case 'PageDown':
        go(at + 10)
        break
      case 'PageUp':
        go(at - 10)
        break
      case 'Home':
        go(0)
        break
      case 'End':
        go(rows.length - 1)
        break
      case 'ArrowRight':
        if (row?.expanded === false) toggle(row.node, true)
        else if (row?.expanded) go(at + 1)
        break
      case 'ArrowLeft':
        if (row?.expanded) toggle(row.node, false)
        else if (row) go(parentOf(rows, at))
        break
      case ' ':
        if (row) flip(row.node)
        break
      case 'Enter':
        if (row) sessionStore.getState().look({ kind: 'fitSelection' })
        break
      default:
        return
    }
    event.preventDefault()
    event.stopPropagation()
  }
  const flip = (node: PartNode) => {
    const hide = hiddenShare(hidden, model.id, node.keys) !== 'all'
    hideParts(model.id, node.keys, all, hide)
    sessionStore.getState().say(`${node.name}: ${hide ? 'hidden, but still checked' : 'shown'}.`)
  }

  const first = Math.max(0, Math.floor(scrolled / rowPx) - SPARE_ROWS)
  const last = Math.min(rows.length, Math.ceil((scrolled + TALLEST_PX) / rowPx) + SPARE_ROWS)
  return (
    <div
      ref={box}
      className="part-tree"
      role="tree"
      aria-label={`Parts of ${model.name}`}
      aria-activedescendant={at >= first && at < last ? `${id}-${at}` : undefined}
      tabIndex={0}
      style={{ maxHeight: TALLEST_PX }}
      onKeyDown={onKeyDown}
      onFocus={() => {
        if (at < 0) go(0)
      }}
      onScroll={event => setScrolled(event.currentTarget.scrollTop)}
    >
      <div role="presentation" style={{ height: rows.length * rowPx, position: 'relative' }}>
        {rows.slice(first, last).map((row, i) => (
          <Row
            key={row.node.id}
            id={`${id}-${first + i}`}
            top={(first + i) * rowPx}
            height={rowPx}
            row={row}
            model={model}
            said={whatIsSaid(own, model.kind, row.node)}
            share={hiddenShare(hidden, model.id, row.node.keys)}
            selected={row.node.id === active?.id}
            onPick={() => onActive(row.node)}
            onToggle={() => toggle(row.node, !row.expanded)}
            onFlip={() => flip(row.node)}
          />
        ))}
      </div>
    </div>
  )
}

/** A file with one thing at the top shows what is in it. */
function firstOpen(tree: readonly PartNode[]): ReadonlySet<string> {
  const open = new Set<string>()
  let at = tree
  while (at.length === 1 && at[0]!.children.length > 0) {
    open.add(at[0]!.id)
    at = at[0]!.children
  }
  return open
}

function parentOf(rows: readonly PartRow[], at: number): number {
  const level = rows[at]!.node.level
  for (let i = at - 1; i >= 0; i--) if (rows[i]!.node.level < level) return i
  return at
}

interface RowProps {
  readonly id: string
  readonly top: number
  readonly height: number
  readonly row: PartRow
  readonly model: Model
  /** What is different about it, in short. */
  readonly said: string
  readonly share: 'none' | 'some' | 'all'
  readonly selected: boolean
  readonly onPick: () => void
  readonly onToggle: () => void
  readonly onFlip: () => void
}

function Row({ id, top, height, row, model, said, share, selected, onPick, onToggle, onFlip }: RowProps) {
  const { node, expanded, place, of } = row
  const { setHover } = sessionStore.getState()
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the tree has the keys
    // biome-ignore lint/a11y/useFocusableInteractive: the tree has the focus and names its active row
    <div
      id={id}
      role="treeitem"
      aria-level={node.level}
      aria-posinset={place}
      aria-setsize={of}
      aria-selected={selected}
      {...(expanded === null ? {} : { 'aria-expanded': expanded })}
      aria-label={[
        node.name,
        node.key === null ? `${node.keys.length} parts` : '',
        said,
        share === 'all' ? 'hidden' : share === 'some' ? 'partly hidden' : '',
      ]
        .filter(Boolean)
        .join(', ')}
      className={`part-row${selected ? ' selected' : ''}${share === 'all' ? ' hidden-part' : ''}`}
      style={{ top, height, paddingLeft: 4 + 14 * (node.level - 1) }}
      title={node.name}
      onClick={onPick}
      onPointerEnter={() => {
        if (node.key !== null) setHover({ kind: 'model', model: model.id, key: node.key })
      }}
      onPointerLeave={() => setHover(null)}
    >
      <span
        className="part-twist"
        aria-hidden="true"
        onClick={event => {
          if (expanded === null) return
          event.stopPropagation()
          onToggle()
        }}
      >
        {expanded === null ? '' : expanded ? '▾' : '▸'}
      </span>
      <span className="part-name">{node.name}</span>
      {said && <span className="part-said quiet">{said}</span>}
      <span
        className={`part-eye${share === 'none' ? '' : ' off'}`}
        aria-hidden="true"
        title={share === 'all' ? 'Show' : 'Hide'}
        onClick={event => {
          event.stopPropagation()
          onFlip()
        }}
      >
        {share === 'all' ? <EyeOff size={15} /> : <Eye size={15} />}
      </span>
    </div>
  )
}

/** What is different about the parts of a row, in short; '' when they are like the whole model. */
function whatIsSaid(own: ReadonlyMap<string, ModelKind>, whole: ModelKind, node: PartNode): string {
  if (own.size === 0) return ''
  const kinds = new Set(node.keys.map(key => own.get(key) ?? whole))
  if (kinds.size > 1) return 'mixed'
  const only = [...kinds][0]
  if (!only || only === whole) return ''
  return only === 'leftOut' ? 'left out' : MODEL_KIND_NAMES[only].toLowerCase()
}
