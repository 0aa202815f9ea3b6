import type { LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import { lerp, sub, type Vec3 } from '../../geometry/vec3.ts'
import { routePoints } from '../../solve/solveRun.ts'
import { compareStore } from '../../store/compareStore.ts'
import { showVersion } from '../../store/comparing.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { showFinding } from '../panels/showFinding.ts'
import type { ChangeAbout, ChangeRow } from './changeRows.ts'

/** No nearer than this, mm: what lies round a change has to be seen with it. */
const LEAST_SPAN = 400
/** Round a part of the earlier version that is no longer there, mm. */
const ROUND_A_PART = 800

/**
 * Selects what a change is about and takes the camera there: square to a run's largest move with both places in the
 * picture, to the whole run when no point moved, to where it stood when it is gone.
 */
export function showChange(row: ChangeRow, earlier: SkidDocument, now: SkidDocument, unit: LengthUnit): void {
  const { select, look, set } = sessionStore.getState()
  const { about } = row
  set({ gap: null })
  const { show } = compareStore.getState()
  // What is chosen is not to be looked for in a version that does not have it.
  if ((row.word === 'removed' && show === 'now') || (row.word === 'added' && show === 'earlier'))
    showVersion('both', [])
  if (about.kind === 'finding') {
    const { run, other } = about.finding.where
    const gone = row.version === 'earlier'
    if (!gone) {
      showFinding(about.finding, unit)
      return
    }
    const still = [run, other].find(id => now.runs.some(r => r.id === id))
    if (still !== undefined && still !== null) {
      select({ kind: 'run', run: still })
      look({ kind: 'fitSelection' })
    } else if (run !== null) flyToEarlier(earlier, { kind: 'run', run, move: null })
    return
  }
  if (row.word === 'removed') {
    flyToEarlier(earlier, about)
    return
  }
  const part = about.kind === 'run' ? ({ kind: 'run', run: about.run } as const) : partInScene(about)
  if (!part) return
  if (about.kind === 'run' && about.move) {
    const { from, to, by } = about.move
    select(part)
    look({
      kind: 'flyTo',
      at: lerp(from, to, 0.5),
      span: Math.max(LEAST_SPAN, 4 * by),
      square: sub(to, from),
    })
    return
  }
  select(part)
  look({ kind: 'fitSelection' })
}

function partInScene(about: ChangeAbout) {
  if (about.kind !== 'part') return null
  const { part, id } = about
  if (part === 'fitting') return { kind: 'fitting', fitting: id } as const
  if (part === 'solid') return { kind: 'solid', solid: id } as const
  if (part === 'model') return { kind: 'model', model: id, key: null } as const
  return part === 'support' ? ({ kind: 'support', support: id } as const) : null
}

/** Where it stood: nothing of it is left to select, and no other run is to bear its tag as if it were meant. */
function flyToEarlier(earlier: SkidDocument, about: ChangeAbout): void {
  const { select, look, set } = sessionStore.getState()
  const places = placesOf(earlier, about)
  if (places.length === 0) return
  select(null)
  set({ runInHand: null })
  const low = ([0, 1, 2] as const).map(k => Math.min(...places.map(p => p[k])))
  const high = ([0, 1, 2] as const).map(k => Math.max(...places.map(p => p[k])))
  const at = low.map((v, k) => (v + high[k]!) / 2) as unknown as Vec3
  const long = Math.max(...high.map((v, k) => v - low[k]!))
  look({ kind: 'flyTo', at, span: long > 0 ? Math.max(LEAST_SPAN, 1.15 * long) : ROUND_A_PART })
}

function placesOf(earlier: SkidDocument, about: ChangeAbout): readonly Vec3[] {
  if (about.kind === 'run') {
    const run = earlier.runs.find(r => r.id === about.run)
    const route = run && routePoints(earlier, run)
    return route && 'points' in route ? route.points : []
  }
  if (about.kind !== 'part') return []
  const { part, id } = about
  if (part === 'fitting') return earlier.fittings.filter(f => f.id === id).map(f => f.position)
  if (part === 'solid' || part === 'model' || part === 'support')
    return [...earlier.solids, ...earlier.models, ...earlier.supports].filter(p => p.id === id).map(p => p.at)
  return []
}
