import { useEffect, useLayoutEffect, useRef } from 'react'
import { useStore } from 'zustand'
import { formatLength } from '../../../document/quantity.ts'
import type { SkidDocument } from '../../../document/types.ts'
import { addScaled, lerp, unit as unitOf, type Vec3 } from '../../../geometry/vec3.ts'
import type { Exemption } from '../../../skid/exemptions.ts'
import { pointAt } from '../../../solve/centreLine.ts'
import { solvedRunOf, solvedRuns } from '../../../store/derived.ts'
import { mendStore } from '../../../store/mendStore.ts'
import { runIdOf, type SessionState, type ShownGap } from '../../../store/sessionStore.ts'
import { shortName } from '../../shortName.ts'
import { useSession, useShown } from '../../useStore.ts'
import type { Frame } from '../cameraRig.ts'
import { declutter } from '../declutter.ts'
import { fittingSize } from '../hexMesh.ts'
import { routeOf } from '../routeOf.ts'
import type { Stage } from '../stage.ts'
import { useExemptions } from '../useExemptions.ts'
import { keepInside, type ScreenBox } from './keepInside.ts'

/** More numbers than this hide the route: then only the selected and hovered points have theirs. */
const MOST_NUMBERS = 120

interface Label {
  readonly key: string
  readonly at: Vec3
  readonly text: string
  readonly kind:
    | 'tag'
    | 'tagInHand'
    | 'number'
    | 'numberLit'
    | 'fitting'
    | 'solid'
    | 'gap'
    | 'gap warning'
    | 'gap ok'
    | 'gapThen'
    | 'length'
    | 'overrun'
    | 'exempt'
}

/** Names over the picture, as text of the page: one layer, moved by the camera without React. */
export function Labels({ stage }: { stage: Stage }) {
  const layer = useRef<HTMLDivElement>(null)
  const document = useShown()
  const runInHand = useSession(s => s.runInHand)
  const selection = useSession(s => s.selection)
  const hover = useSession(s => s.hover)
  const hoverWith = useSession(s => s.hoverWith)
  const showRoute = useSession(s => s.showRoute && s.mode === 'layingOut')
  const hiddenRuns = useSession(s => s.hiddenRuns)
  const gap = useSession(s => s.gap)
  const unit = useSession(s => s.unit)
  const mend = useStore(mendStore, s => s.shown)
  const shownGap = mend
    ? {
        from: mend.pointA,
        to: mend.pointB,
        text: `new gap ${formatLength(mend.clearance, unit, { withUnit: true })}`,
      }
    : gap
  const exemptions = useExemptions()
  const labels = labelsOf(document, {
    exemptions,
    runInHand,
    selection,
    hover,
    hoverWith,
    showRoute,
    hiddenRuns,
    gap: shownGap,
    isGapThen: mend !== null,
    unit,
  })
  const places = useRef<readonly Label[]>(labels)
  places.current = labels

  /** Of the gap's label as it is written, px. */
  const width = useRef({ text: '', px: 0 })
  const move = useRef(() => {
    const box = layer.current
    if (!box) return
    const bars = barsOver(box, stage)
    const seen = places.current.map(label => stage.project(label.at))
    const own = places.current.map(boxOf)
    const boxes = places.current.map(({ kind, text }, i) => {
      const at = seen[i]
      const { rank, ...label } = own[i]!
      if (!at) return null
      if (!kind.startsWith('gap')) return { ...label, rank, x: at.x + label.x, y: at.y + label.y }
      const written = (box.children[i]?.firstElementChild as HTMLElement | null) ?? null
      if (width.current.text !== text && written && written.offsetWidth > 0)
        width.current = { text, px: written.offsetWidth }
      const wide = width.current.text === text ? width.current.px : label.width
      return { ...keepInside(at, { ...label, width: wide }, stage.frame, bars), rank }
    })
    const shown = declutter(boxes, bars)
    places.current.forEach((_, i) => {
      const span = box.children[i] as HTMLElement | undefined
      const at = boxes[i]
      if (!span) return
      span.style.display = shown[i] ? '' : 'none'
      const [x, y] = at ? [at.x - own[i]!.x, at.y - own[i]!.y] : [0, 0]
      if (at) span.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`
    })
  })
  useEffect(() => stage.watch(() => move.current()), [stage])
  useLayoutEffect(() => move.current())

  return (
    <div className="sceneLabels" ref={layer} aria-hidden="true">
      {labels.map(label => (
        <span key={label.key} className={`sceneLabel ${label.kind}`}>
          <b>{label.text}</b>
        </span>
      ))}
    </div>
  )
}

/** Asking where the bars are has the browser lay out the page: no oftener than this while the camera moves. ms */
const ASK_MS = 400
let asked: { readonly at: number; readonly frame: Frame; readonly bars: readonly ScreenBox[] } | null = null

/** What lies over the picture: tools, ways to look, the legend. */
function barsOver(layer: HTMLElement, { frame }: Stage): readonly ScreenBox[] {
  const now = performance.now()
  if (asked && asked.frame === frame && now - asked.at < ASK_MS) return asked.bars
  const { left, top } = layer.getBoundingClientRect()
  const over =
    layer.parentElement?.querySelectorAll('.sceneBar button, .sceneBar .planeHeight, .legend') ?? []
  const bars = [...over].map((element): ScreenBox => {
    const box = element.getBoundingClientRect()
    return { x: box.left - left, y: box.top - top, width: box.width, height: box.height }
  })
  asked = { at: now, frame, bars }
  return bars
}

const RANK: Record<Label['kind'], number> = {
  gap: -1,
  'gap warning': -1,
  'gap ok': -1,
  gapThen: -1,
  length: 0,
  overrun: 1,
  exempt: 4,
  numberLit: 0,
  solid: 1,
  tagInHand: 2,
  number: 3,
  fitting: 4,
  tag: 5,
}

/** The label's box about its point as the style sheet lays it out, px; its width from the letters, near enough. */
function boxOf({ text, kind }: Label) {
  const width = text.length * 6.3 + 10
  const rank = RANK[kind]
  if (kind === 'number' || kind === 'numberLit')
    return { x: 8, y: -20, width: Math.max(16, width - 4), height: 16, rank }
  if (kind.startsWith('gap')) return { x: 24, y: -44, width: width + 16, height: 22, rank }
  return {
    x: -width / 2,
    y: kind === 'fitting' ? 9 : kind === 'exempt' ? 24 : kind === 'length' || kind === 'overrun' ? -27 : -9,
    width,
    height: 18,
    rank,
  }
}

type Seen = Pick<
  SessionState,
  'runInHand' | 'selection' | 'hover' | 'hoverWith' | 'showRoute' | 'hiddenRuns' | 'unit'
> & {
  readonly gap: (Pick<ShownGap, 'from' | 'to' | 'text'> & Partial<ShownGap>) | null
  readonly exemptions: readonly Exemption[]
  /** The gap is that of a ghost. */
  readonly isGapThen: boolean
}

function labelsOf(document: SkidDocument, seen: Seen): Label[] {
  const labels: Label[] = []
  if (seen.gap) {
    const { from, to, text, names, between, state } = seen.gap
    const banded = document.runs.some(r => r.id === between?.[1]) ? ' (banded)' : ''
    const [one, other] = (names ?? ['', '']).map(shortName)
    const parties = one === other ? '' : `${one} and ${other}${banded}: `
    const kind = seen.isGapThen ? 'gapThen' : state === 'error' || !state ? 'gap' : (`gap ${state}` as const)
    labels.push({ key: 'gap', at: lerp(from, to, 0.5), text: `${parties}${text}`, kind })
  }
  for (const part of [seen.hover, seen.hoverWith, seen.selection]) {
    if (part?.kind === 'solid') {
      const solid = document.solids.find(s => s.id === part.solid)
      if (solid && !labels.some(l => l.key === `s ${solid.id}`))
        labels.push({ key: `s ${solid.id}`, at: solid.at, text: solid.name, kind: 'solid' })
    }
    if (part?.kind === 'straight') {
      const piece = solvedRunOf(document, part.run)?.route?.pieces.find(
        p => p.kind === 'line' && p.straight === part.straight,
      )
      const key = `l ${part.run} ${part.straight}`
      if (!piece || labels.some(l => l.key === key)) continue
      const long = piece.to - piece.from
      const text = `${long < 0 ? 'overrun ' : ''}${formatLength(Math.abs(long), seen.unit, { withUnit: true })}`
      labels.push({ key, at: lerp(piece.start, piece.end, 0.5), text, kind: 'length' })
    }
  }
  for (const { run, end, pieces, bodies } of seen.exemptions) {
    const piece = pieces[0]
    if (!piece || seen.hiddenRuns.has(run)) continue
    const more = bodies.length > 1 ? ` and ${bodies.length - 1} more` : ''
    const text = `not measured to ${bodies[0]?.name}${more}`
    labels.push({ key: `e ${run} ${end}`, at: lerp(piece.start, piece.end, 0.5), text, kind: 'exempt' })
  }
  const run = document.runs.find(r => r.id === seen.runInHand)
  for (const fitting of document.fittings) {
    const lit = [seen.hover, seen.hoverWith, seen.selection].some(
      p => p?.kind === 'fitting' && p.fitting === fitting.id,
    )
    const ofRun = run && [run.endA, run.endB].some(e => e.kind === 'port' && e.fitting === fitting.id)
    const axis = unitOf(fitting.axis)
    if (!axis || !(lit || ofRun || document.fittings.length <= 8)) continue
    const at = addScaled(fitting.position, axis, -fittingSize(fitting).behind)
    labels.push({ key: `f ${fitting.id}`, at, text: fitting.name, kind: 'fitting' })
  }
  solvedRuns(document).forEach((solved, i) => {
    const run = document.runs[i]!
    if (seen.hiddenRuns.has(run.id)) return
    const inHand = run.id === seen.runInHand
    const lit =
      runIdOf(seen.hover) === run.id ||
      runIdOf(seen.hoverWith) === run.id ||
      (seen.gap?.between?.includes(run.id) ?? false)
    if (!inHand && !lit && document.runs.length > 12) return
    const { route } = solved
    const at =
      route && route.developedLength > 0
        ? pointAt(route, route.developedLength / 2).point
        : routeOf(document, run.id)?.points[0]
    if (at) labels.push({ key: `t ${run.id}`, at, text: run.tag, kind: inHand ? 'tagInHand' : 'tag' })
  })
  for (const piece of solvedRunOf(document, seen.runInHand)?.route?.pieces ?? []) {
    if (piece.kind !== 'line' || piece.to >= piece.from || seen.hiddenRuns.has(seen.runInHand ?? '')) continue
    const text = `${formatLength(piece.from - piece.to, seen.unit, { withUnit: true })} missing`
    labels.push({
      key: `o ${piece.straight}`,
      at: lerp(piece.start, piece.end, 0.5),
      text,
      kind: 'overrun',
    })
  }
  const route = seen.showRoute ? routeOf(document, seen.runInHand) : null
  if (route && !seen.hiddenRuns.has(route.run.id))
    route.ids.forEach((id, i) => {
      const lit = [seen.hover, seen.selection].some(
        p => p?.kind === 'point' && p.run === route.run.id && p.point === id,
      )
      if (route.ids.length > MOST_NUMBERS && !lit && id !== 'A' && id !== 'B') return
      const text = id === 'A' || id === 'B' ? id : String(i + 1)
      labels.push({ key: `p ${id}`, at: route.points[i]!, text, kind: lit ? 'numberLit' : 'number' })
    })
  // The names in a gap's label are short already, and its figure is what it is for.
  return labels.map(label => (label.key === 'gap' ? label : { ...label, text: shortName(label.text) }))
}
