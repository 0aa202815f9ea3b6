import { movePoint } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import { exactLength, formatLength } from '../../../document/quantity.ts'
import { addScaled, cross, distance, dot, sub, unit as unitOf, type Vec3 } from '../../../geometry/vec3.ts'
import { solvedRunOf } from '../../../store/derived.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { liveClearance } from '../../../store/liveClearance.ts'
import { type Part, sessionStore } from '../../../store/sessionStore.ts'
import { lineThrough, planeThrough, underRay } from '../flat.ts'
import { liveWords } from '../liveWords.ts'
import { otherPoints } from '../otherPoints.ts'
import { legThrough } from '../pick.ts'
import { canDraw } from '../pickable.ts'
import { along, dragStep } from '../pointLimits.ts'
import { pointName, routeOf } from '../routeOf.ts'
import { brokenRule, routeReadout } from '../routeReadout.ts'
import { type Guide, sceneStore } from '../sceneStore.ts'
import { snap } from '../snaps.ts'
import type { SnapTarget } from '../snapTargets.ts'
import type { Stage } from '../stage.ts'
import { soFar, type TypedFields, typedFields } from '../typedFields.ts'
import { dragKey } from './dragKey.ts'
import { SNAP_PX, snapGuide } from './dragPoint.ts'
import type { Gesture, Move } from './gesture.ts'

/** Whether a drag on it moves it: a straight of the run in hand, while laying out. */
export const canDragStraight = (part: Part): boolean =>
  part.kind === 'straight' && canDraw() && part.run === sessionStore.getState().runInHand

/** The two ways, square to a leg and to each other, that it can be moved in, and what a person calls them. */
function waysOf(leg: Vec3): readonly { readonly name: string; readonly way: Vec3 }[] {
  const level = unitOf(cross([0, 0, 1], leg)) ?? ([1, 0, 0] as Vec3)
  const up = cross(leg, level)
  return [level, up].map(way => {
    const k = way.findIndex(v => Math.abs(Math.abs(v) - 1) < 1e-9)
    if (k >= 0)
      return {
        name: `along ${['x', 'y', 'z'][k]}`,
        way: [0, 1, 2].map(i => (i === k ? 1 : 0)) as unknown as Vec3,
      }
    return { name: Math.abs(way[2]) < 1e-9 ? 'sideways, level' : 'up its own plane', way }
  })
}

/**
 * Drags a straight of the run in hand square to itself: both its points move alike, so that it keeps its direction. The
 * first pull chooses which of two ways, arrow keys change it, a typed figure sets it exactly; snaps unless Alt is held.
 * Null where it is not to be dragged, with a word why where a port holds it.
 */
export function dragStraight(
  stage: Stage,
  runId: string,
  straight: number,
  gripped: Vec3,
  from: Move,
): Gesture | null {
  const { document, preview, settle, cancel } = documentStore.getState()
  const session = sessionStore.getState()
  if (!canDragStraight({ kind: 'straight', run: runId, straight })) return null
  const route = routeOf(document, runId)
  if (!route) return null
  const leg = legThrough(route.points, gripped)
  const ends = [leg, leg + 1] as const
  const direction = along(route.points[ends[0]]!, route.points[ends[1]]!)
  if (!direction) return null
  const held = ends
    .map(i => route.ids[i]!)
    .find(id => {
      const end = id === 'A' ? route.run.endA : id === 'B' ? route.run.endB : null
      return end?.kind === 'port'
    })
  if (held) {
    session.say(
      `Straight ${straight + 1} is held by end ${held} in its port: move the fitting, or detach the end under Properties.`,
    )
    return null
  }
  session.select({ kind: 'straight', run: runId, straight })
  const ways = waysOf(direction)
  let chosen: number | null = null
  let typed: TypedFields = typedFields(['by'])
  let by = 0
  let snaps: readonly string[] = []
  let guides: Guide[] = []
  let last = from
  let isOver = false
  const others = otherPoints(document, runId)
  const name = `straight ${straight + 1}`
  const live = liveClearance(document, runId, () => {
    if (!isOver) show()
  })

  /** The way that lies nearest to how the pointer has gone. */
  const wayPulled = (): number => {
    const [here, ...tips] = [
      gripped,
      ...ways.map(w => addScaled(gripped, w.way, 10 * stage.mmPerPx(gripped))),
    ].map(p => stage.project(p))
    const pull = { x: last.x - from.x, y: last.y - from.y }
    const along = tips.map(tip =>
      here && tip
        ? Math.abs(pull.x * (tip.x - here.x) + pull.y * (tip.y - here.y)) /
          Math.max(1, Math.hypot(tip.x - here.x, tip.y - here.y))
        : 0,
    )
    return along[1]! > along[0]! ? 1 : 0
  }

  /** Points that stay, as planes square to the way: reached, the straight is in line with them. */
  const targetsOf = (way: Vec3): SnapTarget[] => {
    const word = Math.abs(way[2]) > 0.999 ? 'level with' : 'in line with'
    const own = route.points.flatMap((at, i) =>
      i === ends[0] || i === ends[1] ? [] : [{ name: pointName(route.ids, route.ids[i]!), at }],
    )
    return [...own, ...others.filter(o => distance(o.at, gripped) < 600)].map(({ name: who, at }) => ({
      name: `${word} ${who}`,
      flat: () => planeThrough(at, way),
      from: () => at,
    }))
  }

  const place = () => {
    chosen ??= wayPulled()
    const { way } = ways[chosen]!
    const { unit } = sessionStore.getState()
    const mm = stage.mmPerPx(gripped)
    const line = lineThrough(gripped, way)
    const start = stage.project(gripped)
    const slip = start ? { x: start.x - from.x, y: start.y - from.y } : { x: 0, y: 0 }
    const ray = stage.ray(last.x + slip.x, last.y + slip.y)
    const under = underRay(line, ray.origin, ray.direction)
    const figure = soFar(typed, unit).by
    snaps = []
    guides = [-1, 1].map(
      s => ({ from: gripped, to: addScaled(gripped, way, s * stage.rig.span * 0.3), kind: 'lock' }) as const,
    )
    if (figure !== undefined) by = figure
    else if (under) {
      const free = dot(sub(under, gripped), way)
      const step = dragStep(mm, unit !== 'mm')
      by = last.alt ? free : Math.round(free / step) * step
      if (!last.alt) {
        const a = route.points[ends[0]]!
        const pulled = snap(addScaled(a, way, by), lineThrough(a, way), targetsOf(way), SNAP_PX * mm)
        if (pulled.names.length > 0) by = dot(sub(pulled.point, a), way)
        snaps = pulled.names
        guides.push(...pulled.guides.map(g => snapGuide(g, mm)))
      }
      by = Math.round(by * 1e9) / 1e9
    }
    preview(d =>
      ends.reduce(
        (next, i) => movePoint(next, runId, route.ids[i]!, addScaled(route.points[i]!, way, by)),
        d,
      ),
    )
    show()
  }

  const show = () => {
    const { unit } = sessionStore.getState()
    const shown = documentStore.getState().document
    const solved = solvedRunOf(shown, runId)
    const run = runOf(shown, runId)
    const { name: wayName } = ways[chosen ?? 0]!
    const points = routeOf(shown, runId)?.points ?? route.points
    const taken = typed.taken.by
    const value =
      typed.text ||
      (taken === undefined
        ? formatLength(by, unit, { digits: unit === 'mm' ? 1 : 3 })
        : exactLength(taken, unit))
    sceneStore.setState({
      guides,
      readout: {
        x: last.x,
        y: last.y,
        title: `Move ${name} ${wayName}`,
        rows: routeReadout(points, ends[0], solved?.route ?? null, unit),
        fields: [{ name: 'by', value, state: taken === undefined ? 'active' : 'set' }],
        broken: typed.refused ? `Not taken: ${typed.refused}` : solved && brokenRule(shown, solved, unit),
        ...(run && solved?.route ? { nearest: liveWords(live.of(run, solved), unit) } : {}),
        snaps,
        hint: 'Type a figure · arrow keys: the other way · Alt: no snap',
      },
    })
  }

  const finish = () => {
    isOver = true
    live.stop()
    sceneStore.setState({ readout: null, guides: [] })
  }

  return {
    move(e) {
      last = e
      place()
    },
    end() {
      finish()
      settle(`Move ${name}`)
      const { unit, say } = sessionStore.getState()
      const { name: wayName } = ways[chosen ?? 0]!
      say(`Straight ${straight + 1} moved ${formatLength(by, unit, { withUnit: true })} ${wayName}.`)
    },
    cancel() {
      finish()
      cancel()
      sessionStore.getState().say(`Straight ${straight + 1} is back where it was.`)
    },
    over: () => isOver,
    key(e) {
      return dragKey(e, {
        alt: () => {
          last = { ...last, alt: true }
          place()
        },
        cancel: () => this.cancel(),
        own: key => {
          if (!key.startsWith('Arrow')) return false
          chosen = chosen === 1 ? 0 : 1
          by = 0
          place()
          return true
        },
        typed: () => typed,
        type: fields => {
          typed = fields
          place()
          return !typed.refused
        },
        end: () => this.end(),
      })
    },
  }
}
