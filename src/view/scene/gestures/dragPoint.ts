import { capital } from '../../../document/capital.ts'
import { movePoint } from '../../../document/edits.ts'
import { runOf } from '../../../document/lookUp.ts'
import { exactLength, formatLength } from '../../../document/quantity.ts'
import { addScaled, distance, type Vec3 } from '../../../geometry/vec3.ts'
import { solvedRunOf } from '../../../store/derived.ts'
import { documentStore } from '../../../store/documentStore.ts'
import { liveClearance } from '../../../store/liveClearance.ts'
import { sessionStore } from '../../../store/sessionStore.ts'
import { basis } from '../cameraRig.ts'
import { underRay } from '../flat.ts'
import { liveWords } from '../liveWords.ts'
import { otherPoints } from '../otherPoints.ts'
import { surfacesShown } from '../pickable.ts'
import {
  AXES,
  AXIS_DIRECTIONS,
  type Axis,
  along,
  atRadius,
  dragStep,
  pointLimits,
  rounded,
  stillAxis,
} from '../pointLimits.ts'
import { placeInWords, pointName, routeOf } from '../routeOf.ts'
import { brokenRule, routeReadout } from '../routeReadout.ts'
import { type Guide, sceneStore } from '../sceneStore.ts'
import { snap } from '../snaps.ts'
import { nearbyTargets, snapTargets } from '../snapTargets.ts'
import type { Stage } from '../stage.ts'
import type { SurfaceSnaps } from '../surfaceSnaps.ts'
import { type FieldName, soFar, type TypedFields, typedFields } from '../typedFields.ts'
import { arrowLock } from './arrowLock.ts'
import { dragKey } from './dragKey.ts'
import { dragTitle } from './dragTitle.ts'
import type { Gesture, Move } from './gesture.ts'

/** How near a point comes to a snap before it is pulled on, px. */
export const SNAP_PX = 9

/** How far a guide goes on past the point, px: beyond the leg that may cover it. */
const PAST_PX = 70

/** The guide of a snap, from what it lines up with to a bit past the point. */
export function snapGuide({ from, to }: { from: Vec3; to: Vec3 }, mmPerPx: number): Guide {
  const direction = along(from, to)
  return { from, to: direction ? addScaled(to, direction, PAST_PX * mmPerPx) : to, kind: 'snap' }
}

const FREE_FIELDS = ['x', 'y', 'z', 'leg'] as const
const isAxis = (key: string): key is Axis => key === 'x' || key === 'y' || key === 'z'

/**
 * Drags a route point: in the plane in sight, along an axis (arrow keys), with typed figures; snaps unless Alt is held.
 * Null, and a word why, when the point cannot be dragged.
 */
export function dragPoint(stage: Stage, runId: string, pointId: string, from: Move): Gesture | null {
  const { document, preview, settle, cancel } = documentStore.getState()
  const session = sessionStore.getState()
  const route = routeOf(document, runId)
  const moving = route?.ids.indexOf(pointId) ?? -1
  const found = route?.points[moving]
  if (!route || !found) return null
  const start: Vec3 = found
  const end = pointId === 'A' ? route.run.endA : pointId === 'B' ? route.run.endB : null
  if (end?.kind === 'port') {
    session.say(`End ${pointId} is in a port: move the fitting, or detach the end under Properties.`)
    return null
  }
  session.select({ kind: 'point', run: runId, point: pointId })
  const name = pointName(route.ids, pointId)
  const still = stillAxis(basis(stage.rig).back)
  const targets = snapTargets({
    points: route.points,
    ids: route.ids,
    moving,
    fittings: document.fittings,
    solids: document.solids,
    od: route.run.tube.od,
  })
  const others = otherPoints(document, runId)
  const { od } = route.run.tube
  let surfaces: SurfaceSnaps = () => []
  void import('../surfaceSnaps.ts').then(({ surfaceSnaps }) => {
    surfaces = surfaceSnaps(surfacesShown(document))
  })
  let lock: Axis | null = null
  let typed: TypedFields = typedFields(FREE_FIELDS)
  let at: Vec3 = start
  let snaps: readonly string[] = []
  let guides: Guide[] = []
  let last = from
  let isOver = false
  let refused = ''

  const live = liveClearance(document, runId, () => {
    if (!isOver) show()
  })

  /** Of the handle against the cursor when it was gripped, so that it does not jump. */
  const gripped = stage.project(start)
  const slip = gripped ? { x: gripped.x - from.x, y: gripped.y - from.y } : { x: 0, y: 0 }

  const place = () => {
    const { unit } = sessionStore.getState()
    const lengths = soFar(typed, unit)
    const flat = pointLimits(start, still, lock, lengths)
    const ray = stage.ray(last.x + slip.x, last.y + slip.y)
    const mm = stage.mmPerPx(start)
    const raw = underRay(flat, ray.origin, ray.direction) ?? at
    const free = last.alt ? raw : rounded(flat, raw, dragStep(mm, unit !== 'mm'))
    guides = []
    refused = typed.refused
    const reach = SNAP_PX * mm
    const leg = lengths.leg
    const neighbour = route.points[moving - 1] ?? route.points[moving + 1]
    if (leg !== undefined && neighbour) {
      const onLeg = atRadius(flat, raw, neighbour, leg)
      if (!onLeg) refused = 'no position in this plane is that far from the previous point'
      at = onLeg ?? free
      snaps = []
    } else {
      const pulled = last.alt
        ? { point: free, names: [], guides: [] }
        : snap(
            free,
            flat,
            [...targets, ...nearbyTargets(others, free), ...surfaces(free, flat, od, reach, ray.direction)],
            reach,
          )
      at = pulled.point
      snaps = pulled.names
      guides = pulled.guides.map(g => snapGuide(g, mm))
    }
    if (lock) {
      const reach = stage.rig.span * 0.3
      const d = AXIS_DIRECTIONS[lock]
      guides.push({ from: addScaled(start, d, -reach), to: addScaled(start, d, reach), kind: 'lock' })
    }
    preview(d => movePoint(d, runId, pointId, at))
    show()
  }

  const show = () => {
    const { unit } = sessionStore.getState()
    const shown = documentStore.getState().document
    const solved = solvedRunOf(shown, runId)
    const run = runOf(shown, runId)
    const points = route.points.map((p, i) => (i === moving ? at : p))
    const figures = routeReadout(points, moving, solved?.route ?? null, unit)
    const digits = unit === 'mm' ? 1 : 3
    const now = (field: FieldName) => {
      if (field === 'by' && lock) return at[AXES.indexOf(lock)]! - start[AXES.indexOf(lock)]!
      if (field === 'leg') {
        const neighbour = route.points[moving - 1] ?? route.points[moving + 1]
        return neighbour ? distance(neighbour, at) : null
      }
      return isAxis(field) ? at[AXES.indexOf(field)]! : null
    }
    sceneStore.setState({
      guides,
      readout: {
        x: last.x,
        y: last.y,
        title: dragTitle(name, still, lock, soFar(typed, unit)),
        rows: figures,
        fields: typed.names.map((field, i) => {
          const taken = typed.taken[field]
          const live = now(field)
          const value =
            i === typed.active && typed.text
              ? typed.text
              : taken !== undefined
                ? exactLength(taken, unit)
                : live === null
                  ? '–'
                  : formatLength(live, unit, { digits })
          return {
            name: field,
            value,
            state: taken !== undefined ? 'set' : i === typed.active ? 'active' : 'follows',
          }
        }),
        broken: refused ? `Not applied: ${refused}` : solved && brokenRule(shown, solved, unit),
        ...(run && solved?.route ? { nearest: liveWords(live.of(run, solved), unit) } : {}),
        snaps,
        hint: 'Type figures, ; between · ← → ↑ ↓ lock to an axis · Alt: no snap',
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
      say(`${capital(name)} moved to ${placeInWords(at, unit)}.`)
    },
    cancel() {
      finish()
      cancel()
      sessionStore.getState().say(`${capital(name)} is back in its old position.`)
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
          const locked = arrowLock(key, lock, stage.rig)
          if (locked === undefined) return false
          lock = locked
          typed = typedFields(lock ? ['by', lock] : FREE_FIELDS)
          place()
          return true
        },
        typed: () => typed,
        type: fields => {
          typed = fields
          place()
          return !refused
        },
        end: () => this.end(),
      })
    },
  }
}
