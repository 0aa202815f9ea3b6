import { type KeyboardEvent, type ReactNode, useId, useRef, useState } from 'react'
import { fittingOf } from '../../document/lookUp.ts'
import { editRow } from '../../solve/editRows.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { type Part, sessionStore } from '../../store/sessionStore.ts'
import { applyEdit } from '../fields/applyEdit.ts'
import { QuantityField } from '../fields/QuantityField.tsx'
import { angleKind, lengthKind, lengthUnitWord, type QuantityKind } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import { KeepEnd } from './KeepEnd.tsx'
import { neededStraights } from './neededStraight.ts'
import { rowEdit, turnInWords } from './rowEdits.ts'
import { rulerTicks } from './rulerTicks.ts'
import { CLOCK_R, TurnClock } from './TurnClock.tsx'
import { fitScale, type StraightStretch, toPx, unrolled } from './unrolledLayout.ts'
import { usePart } from './usePart.ts'
import type { RunInHand } from './useRunInHand.ts'
import { useStraightDrag } from './useStraightDrag.ts'

/** Rows of the drawing, px from its top. */
const Y = { clock: 15, angle: 39, top: 44, bottom: 70, figure: 84, ruler: 93, height: 116 }
const MID = (Y.top + Y.bottom) / 2
/** Room beside the tube for the ends' letters. */
const SIDE = 30
/** Mean width of a figure in the drawing's type, px. */
const DIGIT = 6.4

interface Props extends RunInHand {
  readonly route: SolvedRoute
  readonly width: number
}

/** One thing along the tube that can be pointed at, walked to and, mostly, changed. */
interface Item {
  readonly key: string
  readonly part: Part
  readonly says: string
  /** Middle, px. */
  readonly x: number
  readonly field: {
    readonly kind: 'straight' | 'rotation' | 'angle'
    readonly index: number
    readonly name: string
    readonly label: string
    readonly value: number
    readonly quantity: QuantityKind
  } | null
}

export function UnrolledDrawing({ document, run, solved, route, width }: Props) {
  const unit = useSession(state => state.unit)
  const keep = useSession(state => state.keepEnd)
  const marks = usePart()
  const uid = useId()
  const [editing, setEditing] = useState<string | null>(null)
  const [at, setAt] = useState('s0')
  const svg = useRef<SVGSVGElement>(null)
  const drag = useStraightDrag(run.id, unit)

  const length = lengthKind(unit)
  const word = lengthUnitWord(unit)
  const needs = neededStraights(document, run, solved)
  const drawn = unrolled(route, needs, solved.insertionA, solved.insertionB, run.trimAllowance)
  const scale = drag.held(drawn, fitScale(drawn, SIDE, width - SIDE))
  const px = (mm: number) => toPx(scale, mm)
  const items = itemsAlong()
  const open = items.find(i => i.key === editing && i.field)

  const focus = (key: string) => {
    setAt(key)
    svg.current?.querySelector<SVGGElement>(`[data-item="${key}"]`)?.focus()
  }
  const close = (back: string) => {
    setEditing(null)
    requestAnimationFrame(() => focus(back))
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
      if (item.field && event.key !== ' ') setEditing(item.key)
    } else if (item.field && ['+', '-', '='].includes(event.key)) {
      event.preventDefault()
      const { kind, index, label, value, quantity } = item.field
      const by = quantity.step * (event.key === '-' ? -1 : 1) * (event.altKey ? 0.1 : 1)
      const refused = applyEdit(label, rowEdit(run.id, kind, index)(Number((value + by).toPrecision(12))))
      sessionStore
        .getState()
        .say(refused ?? `${item.field.name}: ${quantity.show(value + by)} ${quantity.unitWord}`)
    }
  }

  const group = (item: Item | undefined, className: string, content: ReactNode) =>
    item && (
      // biome-ignore lint/a11y/useSemanticElements: SVG has no button element
      <g
        key={item.key}
        role="button"
        data-item={item.key}
        tabIndex={item.key === at ? 0 : -1}
        aria-label={item.says}
        aria-pressed={marks.isSelected(item.part)}
        className={`part ${className}${marks.marks(item.part)}`}
        {...marks.pointer(item.part)}
        onFocus={() => setAt(item.key)}
        onClick={() => {
          sessionStore.getState().select(item.part)
          setAt(item.key)
          if (item.field) setEditing(item.key)
        }}
      >
        <title>{item.says}</title>
        {content}
      </g>
    )
  const itemOf = (key: string) => items.find(i => i.key === key)

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
        <defs>
          {(['tube', 'bend'] as const).map(of => (
            <linearGradient key={of} id={`${uid}${of}`} x1="0" y1="0" x2="0" y2="1">
              <stop offset="0" className={`${of}-edge`} />
              <stop offset="0.3" className={`${of}-light`} />
              <stop offset="0.62" className={`${of}-mid`} />
              <stop offset="1" className={`${of}-edge`} />
            </linearGradient>
          ))}
          <pattern
            id={`${uid}need`}
            width="6"
            height="6"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <line x1="0" y1="0" x2="0" y2="6" className="hatch-need" />
          </pattern>
          <pattern
            id={`${uid}short`}
            width="5"
            height="5"
            patternUnits="userSpaceOnUse"
            patternTransform="rotate(45)"
          >
            <rect width="5" height="5" className="hatch-short-ground" />
            <line x1="0" y1="0" x2="0" y2="5" className="hatch-short" />
          </pattern>
        </defs>
        <Ruler zero={px(0)} scale={scale.pxPerMm} length={drawn.end} unitWord={word} unit={unit} />

        {([drawn.insertionA, drawn.insertionB, drawn.trim] as const).map((stretch, i) => {
          if (!stretch) return null
          const w = px(stretch.to) - px(stretch.from)
          const says = i === 2 ? 'trim' : 'in'
          return (
            <g key={['a', 'b', 'trim'][i]} className="inserted" aria-hidden>
              <rect x={px(stretch.from)} y={Y.top + 3} width={w} height={Y.bottom - Y.top - 6} />
              {w > 22 && (
                <text x={px(stretch.from) + w / 2} y={MID + 4} className="small">
                  {says}
                </text>
              )}
            </g>
          )
        })}

        {drawn.straights.map(s => {
          const item = itemOf(`s${s.index}`)
          return group(item, 'straight', straightShape(s))
        })}
        {drawn.bends.map(b => {
          const [x0, x1] = [px(b.from), px(b.to)]
          const w = Math.max(2, x1 - x0)
          const inside = w >= 30
          return group(
            itemOf(`b${b.index}`),
            'bend',
            <>
              <rect
                className="body"
                fill={`url(#${uid}bend)`}
                x={x0}
                y={Y.top - 3}
                width={w}
                height={Y.bottom - Y.top + 6}
                rx={3}
              />
              <text x={x0 + w / 2} y={inside ? MID + 4 : Y.angle} className={inside ? 'in-bend' : 'over'}>
                {fits(`${angleKind.show(b.angle)}°`, inside ? w : Math.max(w, 30))}
              </text>
              <text x={x0 + w / 2} y={Y.figure} className="bend-number">
                {b.index + 1}
              </text>
            </>,
          )
        })}
        {drawn.straights
          .filter(s => s.length < 0)
          .map(s => (
            <g key={s.index} className="overlap" aria-hidden>
              <rect
                fill={`url(#${uid}short)`}
                x={px(s.to)}
                y={Y.top - 6}
                width={Math.max(2, px(s.from) - px(s.to))}
                height={Y.bottom - Y.top + 12}
              />
              <text x={px((s.from + s.to) / 2)} y={Y.figure + 1} className="short-text">
                overlap {length.show(-s.length)}
              </text>
            </g>
          ))}
        {drawn.turns.map(t => {
          const item = itemOf(`t${t.bend}`)
          const x = px(t.at)
          const room = roomForTurn(t.bend)
          const r = room < 2 * CLOCK_R ? Math.max(6, room / 2 - 1) : CLOCK_R
          const text = `${angleKind.show(Math.abs(t.rotation))}°`
          const arrow =
            Math.abs(t.rotation) < 0.005 || Math.abs(t.rotation) === 180 ? '' : t.rotation > 0 ? ' ↻' : ' ↺'
          return group(
            item,
            'turn',
            <>
              <rect className="hit" x={x - r - 2} y={0} width={2 * r + 4} height={Y.top - 4} />
              <TurnClock x={x} y={Y.clock} rotation={t.rotation} r={r} />
              {room > 2 * CLOCK_R + 44 && (
                <text x={x + r + 5} y={Y.clock + 4} className="turn-text">
                  {text}
                  {arrow}
                </text>
              )}
            </>,
          )
        })}
        {(['A', 'B'] as const).map(end => {
          const x = end === 'A' ? px(Math.min(0, drawn.start)) - 15 : px(drawn.end) + 15
          return group(
            itemOf(end),
            'end',
            <>
              <circle cx={x} cy={MID} r={11} />
              <text x={x} y={MID + 4.5}>
                {end}
              </text>
            </>,
          )
        })}
        {drawn.straights.map(s => {
          const held = editRow(document, run.id, { kind: 'straight', index: s.index, to: s.length }, keep)
          if (!held.ok) return null
          const x = px(keep === 'A' ? s.to : s.from)
          return (
            <g
              key={s.index}
              className={drag.dragging === s.index ? 'grip held' : 'grip'}
              aria-hidden
              {...drag.handle(s.index, s.length, drawn, scale)}
            >
              <rect x={x - 6} y={Y.top - 6} width={12} height={Y.bottom - Y.top + 12} className="hit" />
              <line x1={x} x2={x} y1={Y.top - 5} y2={Y.bottom + 5} />
            </g>
          )
        })}
        {drag.dragging !== null && dragFigure()}
      </svg>
      {open?.field && (
        <div className="unrolled-editor" style={{ left: Math.max(4, Math.min(width - 292, open.x - 144)) }}>
          <QuantityField
            key={open.key}
            name={open.field.name}
            value={open.field.value}
            kind={open.field.quantity}
            label={open.field.label}
            edit={rowEdit(run.id, open.field.kind, open.field.index)}
            autoFocus
            onDone={how => (how === 'applied' ? close(open.key) : setEditing(null))}
          />
          <KeepEnd />
        </div>
      )}
    </div>
  )

  function itemsAlong(): Item[] {
    const list: Item[] = [endItem('A', px(0) - 15)]
    for (const s of drawn.straights) {
      list.push({
        key: `s${s.index}`,
        part: { kind: 'straight', run: run.id, straight: s.index },
        says: straightSays(s),
        x: px((s.from + s.to) / 2),
        field: {
          kind: 'straight',
          index: s.index,
          name: `Straight ${s.index + 1}`,
          label: `Change straight ${s.index + 1}`,
          value: s.length,
          quantity: length,
        },
      })
      const bend = route.bends[s.index]
      const drawnBend = drawn.bends[s.index]
      if (!bend || !drawnBend) continue
      const part: Part = { kind: 'point', run: run.id, point: bend.vertexId }
      const turn = drawn.turns.find(t => t.bend === s.index)
      if (turn)
        list.push({
          key: `t${s.index}`,
          part,
          says: `Turn from bend ${s.index} to bend ${s.index + 1}: ${turnInWords(turn.rotation, angleKind.show)}, looking from A to B`,
          x: px(turn.at),
          field: {
            kind: 'rotation',
            index: s.index,
            name: `Turn to bend ${s.index + 1}`,
            label: `Turn bend ${s.index + 1}`,
            value: turn.rotation,
            quantity: angleKind,
          },
        })
      list.push({
        key: `b${s.index}`,
        part,
        says: `Bend ${s.index + 1}: ${angleKind.show(bend.angle)}°, arc ${length.show(bend.arcLength)} ${word}`,
        x: px((drawnBend.from + drawnBend.to) / 2),
        field: {
          kind: 'angle',
          index: s.index,
          name: `Bend ${s.index + 1}`,
          label: `Change angle of bend ${s.index + 1}`,
          value: bend.angle,
          quantity: angleKind,
        },
      })
    }
    list.push(endItem('B', px(drawn.end) + 15))
    return list
  }

  function endItem(end: 'A' | 'B', x: number): Item {
    const fitting = fittingOf(document, end === 'A' ? run.endA : run.endB)
    const insertion = end === 'A' ? solved.insertionA : solved.insertionB
    return {
      key: end,
      part: { kind: 'point', run: run.id, point: end },
      says: `End ${end}: ${fitting ? `${fitting.name}, ${length.show(insertion)} ${word} inside` : 'free'}`,
      x,
      field: null,
    }
  }

  function straightSays(s: StraightStretch): string {
    const what = `Straight ${s.index + 1}: ${length.show(s.length)} ${word}`
    const need = needs[s.index]
    if (s.length < 0) return `${what}, the bends overlap`
    if (!need || need.length === null) return `${what}, what it needs is not known: ${need?.why ?? ''}`
    if (need.length === 0) return what
    return `${what}, needs ${length.show(need.length)} for ${need.why}${
      s.missing > 0 ? `, ${length.show(s.missing)} short` : ''
    }`
  }

  /** Free width over the straight before a bend, px: to the middles of the clocks beside it. */
  function roomForTurn(bend: number): number {
    const own = drawn.turns.findIndex(t => t.bend === bend)
    const x = px(drawn.turns[own]!.at)
    const before = drawn.turns[own - 1]
    const after = drawn.turns[own + 1]
    return Math.min(before ? x - px(before.at) : x * 2, after ? px(after.at) - x : (width - x) * 2)
  }

  function straightShape(s: StraightStretch): ReactNode {
    const [x0, x1] = [px(Math.min(s.from, s.to)), px(Math.max(s.from, s.to))]
    const w = Math.max(1, x1 - x0)
    const figure = length.show(s.length)
    const short = s.missing > 0
    const shortText = `${length.show(s.missing)} short`
    const wide = (text: string) => w >= text.length * DIGIT + 4
    return (
      <>
        <rect className="hit" x={x0} y={Y.top - 4} width={w} height={Y.figure - Y.top + 8} />
        <rect
          className="body"
          fill={`url(#${uid}tube)`}
          x={x0}
          y={Y.top}
          width={w}
          height={Y.bottom - Y.top}
        />
        {s.needed && !short && (
          <g className="needed">
            <rect
              fill={`url(#${uid}need)`}
              x={px(s.needed.from)}
              y={Y.top}
              width={px(s.needed.to) - px(s.needed.from)}
              height={Y.bottom - Y.top}
            />
            <path
              d={`M${px(s.needed.from)} ${Y.bottom + 3}V${Y.bottom + 6}H${px(s.needed.to)}V${Y.bottom + 3}`}
            />
          </g>
        )}
        {short && s.length >= 0 && (
          <rect fill={`url(#${uid}short)`} x={x0} y={Y.top} width={w} height={Y.bottom - Y.top} />
        )}
        {short && s.length >= 0 ? (
          <text x={(x0 + x1) / 2} y={Y.figure + 1} className="short-text">
            {wide(`${figure}, ${shortText}`) ? `${figure}, ${shortText}` : shortText}
          </text>
        ) : (
          s.length >= 0 &&
          wide(figure) && (
            <text x={(x0 + x1) / 2} y={Y.figure} className="figure">
              {figure}
            </text>
          )
        )}
      </>
    )
  }

  function dragFigure() {
    const s = drawn.straights[drag.dragging ?? 0]
    if (!s) return null
    const x = px((s.from + s.to) / 2)
    const text = `${length.show(s.length)} ${word}`
    const w = text.length * 7 + 16
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

const fits = (text: string, w: number): string =>
  text.length * DIGIT <= w + 2 ? text : text.split('.')[0]!.replace('°', '')

function Ruler(props: {
  zero: number
  scale: number
  length: number
  unitWord: string
  unit: 'mm' | 'in' | 'fraction'
}) {
  const { zero, scale, length, unitWord, unit } = props
  const ticks = rulerTicks(length, scale, unit)
  return (
    <g className="ruler" aria-hidden>
      <line x1={zero} x2={zero + length * scale} y1={Y.ruler} y2={Y.ruler} />
      {ticks.map(t => {
        const x = Math.round(zero + t.at * scale) + 0.5
        return (
          <g key={t.at}>
            <line x1={x} x2={x} y1={Y.ruler} y2={Y.ruler + (t.label === null ? 4 : 8)} />
            {t.label !== null && (
              <text x={x} y={Y.ruler + 19}>
                {t.label}
              </text>
            )}
          </g>
        )
      })}
      <text x={zero - 8} y={Y.ruler + 10} className="ruler-unit">
        {unitWord}
      </text>
    </g>
  )
}
