import {
  type KeyboardEvent,
  lazy,
  type ReactNode,
  Suspense,
  useCallback,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react'
import { isOpen } from '../../checks/decisions.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { QuantityField } from '../fields/QuantityField.tsx'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { useFindings } from '../useFindings.ts'
import { useSession } from '../useStore.ts'
import { KeepEnd } from './KeepEnd.tsx'
import { neededStraights } from './neededStraight.ts'
import { pencilMarks } from './pencilMarks.ts'
import { rowEdit } from './rowEdits.ts'
import type { Nudged } from './StraightNearest.tsx'
import {
  BendShape,
  MID,
  Outside,
  Overlap,
  Paints,
  PencilMarks,
  Ruler,
  StraightFigures,
  StraightShape,
  TurnShape,
  Y,
} from './UnrolledShapes.tsx'
import { type Item, itemsAlong } from './unrolledItems.ts'
import { fitScale, toPx, unrolled } from './unrolledLayout.ts'
import { usePart } from './usePart.ts'
import type { RunInHand } from './useRunInHand.ts'
import { useStraightDrag } from './useStraightDrag.ts'

/** Only while a figure is changed. */
const StraightNearest = lazy(() => import('./StraightNearest.tsx'))

/** Room beside the tube for the ends' letters, px. */
const SIDE = 30
/** Width of the field that opens over the drawing, px. */
const EDITOR = 288
/** Least room an angle's figure takes over its bend, px. */
const ANGLE_PX = 34

interface Props extends RunInHand {
  readonly route: SolvedRoute
  readonly width: number
}

/** The stock to scale, and every straight, bend and turn of it a button that opens its figure. */
export function UnrolledDrawing(props: Props) {
  const { document, run, solved, route, width } = props
  const unit = useSession(state => state.unit)
  const keep = useSession(state => state.keepEnd)
  const marks = usePart()
  const uid = useId()
  const [editing, setEditing] = useState<{ readonly key: string; readonly serial: number } | null>(null)
  const [at, setAt] = useState('s0')
  const [nudged, setNudged] = useState<(Nudged & { readonly key: string }) | null>(null)
  const forgetNudge = useCallback(() => setNudged(null), [])
  const svg = useRef<SVGSVGElement>(null)
  const drag = useStraightDrag(run.id, unit)

  const needs = neededStraights(document, run, solved)
  const drawn = unrolled(route, needs, solved.insertionA, solved.insertionB, run.trimAllowance)
  const scale = drag.held(drawn, fitScale(drawn, SIDE, width - SIDE))
  const px = (mm: number) => toPx(scale, mm)
  const { decisions } = useFindings()
  const open = useMemo(() => decisions.decided.filter(isOpen).map(d => d.finding), [decisions])
  const items = itemsAlong(props, route, drawn, needs, unit, open)
  const edited = items.find(i => i.key === editing?.key && i.field)
  const tabStop = items.some(i => i.key === at) ? at : 's0'
  const pencil = pencilMarks(document, run, solved)

  const edit = (key: string) => setEditing(now => ({ key, serial: (now?.serial ?? 0) + 1 }))
  // As editRow has it: an end in a port stays, so the straight beside it has nothing to move.
  const moving = keep === 'A' ? run.endB : run.endA
  const canPull = (straight: number) =>
    route.passedThrough.length === 0 &&
    (moving.kind === 'free' || (keep === 'A' ? straight < route.bends.length : straight > 0))
  const focus = (key: string) => {
    setAt(key)
    svg.current?.querySelector<SVGGElement>(`[data-item="${key}"]`)?.focus()
  }

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey) return
    const key = event.target instanceof Element ? event.target.getAttribute('data-item') : null
    const now = items.findIndex(i => i.key === key)
    const item = items[now]
    if (!item) return
    const to = { ArrowRight: now + 1, ArrowLeft: now - 1, Home: 0, End: items.length - 1 }[event.key]
    if (to !== undefined) {
      event.preventDefault()
      if (items[to]) focus(items[to].key)
    } else if (event.key === 'Enter' || event.key === 'F2' || event.key === ' ') {
      event.preventDefault()
      sessionStore.getState().select(item.part)
      if (item.field && event.key !== ' ') edit(item.key)
    } else if (item.field && ['+', '-', '='].includes(event.key)) {
      event.preventDefault()
      const { kind, index, label, name, value, quantity } = item.field
      const by = quantity.step * (event.key === '-' ? -1 : 1) * (event.altKey ? 0.1 : 1)
      const next = Number((value + by).toPrecision(12))
      const refused = applyEdit(label, rowEdit(run.id, kind, index)(next))
      const said = `${name}: ${quantity.show(next)} ${quantity.unitWord}`
      sessionStore.getState().say(refused ?? said)
      setNudged(refused ? null : { key: item.key, said, document: documentStore.getState().settled })
    }
  }

  const part = (key: string, className: string, content: ReactNode) => {
    const item = items.find(i => i.key === key)
    return (
      item && (
        // biome-ignore lint/a11y/useSemanticElements: SVG has no button element
        <g
          key={key}
          role="button"
          data-item={key}
          tabIndex={key === tabStop ? 0 : -1}
          aria-label={item.says}
          aria-pressed={marks.isSelected(item.part)}
          className={`part ${className}${marks.marks(item.part)}`}
          {...marks.pointer(item.part)}
          onFocus={() => setAt(key)}
          onClick={() => {
            sessionStore.getState().select(item.part)
            setAt(key)
            if (item.field) edit(key)
          }}
        >
          <title>{item.says}</title>
          {content}
        </g>
      )
    )
  }

  /** Free width around the middle of one of several things along the tube, px. */
  const roomAt = (places: readonly number[], i: number): number => {
    const x = px(places[i]!)
    const before = places[i - 1]
    const after = places[i + 1]
    return Math.min(
      before === undefined ? 2 * x : x - px(before),
      after === undefined ? 2 * (width - x) : px(after) - x,
    )
  }
  const turnsAt = drawn.turns.map(t => t.at)
  const bendsAt = drawn.bends.map(b => (b.from + b.to) / 2)
  const crowded = bendsAt.some((_, i) => i > 0 && px(bendsAt[i]!) - px(bendsAt[i - 1]!) < ANGLE_PX)

  return (
    <div className={drag.dragging === null ? 'unrolled-drawing' : 'unrolled-drawing dragging'}>
      <svg
        ref={svg}
        role="toolbar"
        aria-label={`${run.tag} unrolled, from end A to end B. Arrow keys walk along it, Enter changes a figure.`}
        width={width}
        height={Y.height}
        viewBox={`0 0 ${width} ${Y.height}`}
        onKeyDown={onKeyDown}
      >
        <Paints uid={uid} />
        <Ruler scale={scale} length={drawn.end} unit={unit} />
        <Outside drawn={drawn} scale={scale} />
        {drawn.straights.map(s =>
          part(`s${s.index}`, 'straight', <StraightShape s={s} scale={scale} uid={uid} />),
        )}
        {drawn.bends.map((b, i) =>
          part(
            `b${b.index}`,
            'bend',
            <BendShape
              b={b}
              scale={scale}
              uid={uid}
              crowded={crowded && roomAt(bendsAt, i) < ANGLE_PX && i % 2 === 1}
            />,
          ),
        )}
        {drawn.straights
          .filter(s => s.length < 0)
          .map(s => (
            <Overlap key={s.index} s={s} scale={scale} uid={uid} />
          ))}
        <StraightFigures
          straights={drawn.straights}
          scale={scale}
          unit={unit}
          width={width}
          isSelected={straight => marks.isSelected({ kind: 'straight', run: run.id, straight })}
        />
        {pencil && <PencilMarks marks={pencil} scale={scale} />}
        {drawn.turns.map((t, i) =>
          part(`t${t.bend}`, 'turn', <TurnShape turn={t} scale={scale} room={roomAt(turnsAt, i)} />),
        )}
        {(['A', 'B'] as const).map(end => {
          const x = end === 'A' ? px(drawn.start) - 15 : px(drawn.end) + 15
          return part(
            end,
            'end',
            <>
              <rect className="hit" x={x - 12} y={MID - 12} width={24} height={24} />
              <circle className="end-face" cx={x} cy={MID} r={11} />
              <text x={x} y={MID + 4.5}>
                {end}
              </text>
            </>,
          )
        })}
        {drawn.straights.map(s => {
          if (!canPull(s.index)) return null
          const x = px(keep === 'A' ? s.to : s.from)
          return (
            <g
              key={s.index}
              className={drag.dragging === s.index ? 'grip held' : 'grip'}
              data-grip={s.index}
              aria-hidden
              {...drag.handle(s.index, s.length, drawn, scale)}
            >
              <rect x={x - 5} y={Y.top - 6} width={10} height={Y.bottom - Y.top + 12} className="hit" />
              <rect x={x - 22} y={Y.bottom} width={44} height={Y.height - Y.bottom} className="for-finger" />
              <line x1={x} x2={x} y1={Y.top - 5} y2={Y.bottom + 5} />
            </g>
          )
        })}
        {drag.dragging !== null && dragFigure(drag.dragging)}
      </svg>
      {nearest()}
      {edited && editor(edited)}
    </div>
  )

  function editor(item: Item) {
    const field = item.field!
    return (
      <fieldset
        className="unrolled-editor"
        aria-label={field.name}
        style={{ left: Math.max(4, Math.min(width - EDITOR - 4, px(item.at) - EDITOR / 2)), width: EDITOR }}
        onBlur={event => {
          if (event.currentTarget.contains(event.relatedTarget)) return
          const [box, own] = [event.currentTarget, editing]
          // By then a figure that was refused shows so: its text and reason stay in sight.
          requestAnimationFrame(() => {
            if (!box.querySelector('[aria-invalid="true"]')) setEditing(now => (now === own ? null : now))
          })
        }}
      >
        <QuantityField
          key={editing?.serial}
          name={field.name}
          value={field.value}
          kind={field.quantity}
          label={field.label}
          edit={rowEdit(run.id, field.kind, field.index)}
          autoFocus
          onDone={() => {
            setEditing(null)
            queueMicrotask(() => focus(item.key))
          }}
        />
        <KeepEnd />
      </fieldset>
    )
  }

  /** How near the run comes by what is being changed: over the ruler, which says least then. */
  function nearest() {
    const changed = items.find(i =>
      drag.dragging === null ? i.key === nudged?.key : i.key === `s${drag.dragging}`,
    )
    if (!changed) return null
    return (
      <Suspense>
        <StraightNearest
          run={run}
          solved={solved}
          at={px(changed.at)}
          width={width}
          top={Y.ruler - 1}
          nudged={drag.dragging === null ? nudged : null}
          onDone={forgetNudge}
        />
      </Suspense>
    )
  }

  function dragFigure(straight: number) {
    const s = drawn.straights[straight]
    if (!s) return null
    const text = `${drag.typing || lengthKind(unit).show(s.length)} ${lengthUnitWord(unit)}`
    const w = text.length * 7 + 16
    const x = px((s.from + s.to) / 2)
    return (
      <g className="drag-figure" aria-hidden>
        <rect x={x - w / 2} y={Y.top - 32} width={w} height={22} rx={5} />
        <text x={x} y={Y.top - 17}>
          {text}
        </text>
      </g>
    )
  }
}
