import { runOf } from '../../document/lookUp.ts'
import { formatLength } from '../../document/quantity.ts'
import { addSupport } from '../../document/supportEdits.ts'
import type { Run } from '../../document/types.ts'
import { LENGTH_SLACK_MM } from '../../solve/lengthSlack.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Move } from '../scene/gestures/gesture.ts'
import { nearestOnSegment, pickAt } from '../scene/pick.ts'
import { pickable } from '../scene/pickable.ts'
import { dragStep } from '../scene/pointLimits.ts'
import { type Guide, type Readout, sceneStore } from '../scene/sceneStore.ts'
import type { Stage } from '../scene/stage.ts'
import { supportStand } from '../scene/supportStand.ts'
import { saddleLines } from './saddleLines.ts'
import { type SupportPlace, supportPlace } from './supportPlace.ts'

interface Found {
  readonly run: Run
  readonly route: SolvedRoute
  readonly place: SupportPlace
}
type Refused = { readonly refused: string }

/** Nobody drills finer than this by pointing, however near the view; mm. A figure can be typed. */
const FINEST = { mm: 1, in: 25.4 / 16 } as const

const long = (mm: number) => formatLength(mm, sessionStore.getState().unit, { withUnit: true })

/**
 * Where a click puts a support on the tube of the run in hand, on whole steps of the unit from the straight's start
 * unless Alt is held; or why it puts none there, as a sentence.
 */
function under(stage: Stage, e: Move): Found | Refused {
  const { settled } = documentStore.getState()
  const { runInHand, unit } = sessionStore.getState()
  const run = runInHand === null ? undefined : runOf(settled, runInHand)
  if (!run) return { refused: 'Select a run first: supports go on the active run.' }
  const pick = pickAt(stage, { ...pickable(), handlesOf: null }, e.x, e.y)
  if (!pick) return { refused: `Point at a straight of ${run.tag}.` }
  const { part } = pick
  if (part.kind === 'support') {
    const other = settled.supports.find(s => s.id === part.support)
    return { refused: `${other?.name ?? 'A support'} is there already.` }
  }
  if (!('run' in part)) return { refused: `Point at a straight of ${run.tag}.` }
  if (part.run !== run.id)
    return {
      refused: `That is ${runOf(settled, part.run)?.tag ?? 'another run'}; ${run.tag} is the active run.`,
    }
  const route = solvedRunOf(settled, run.id)?.route
  if (!route) return { refused: `${run.tag} has no tube.` }
  const inches = unit !== 'mm'
  const step = e.alt ? null : Math.max(FINEST[inches ? 'in' : 'mm'], dragStep(stage.mmPerPx(pick.at), inches))
  // What is picked lies on the tube's outline: along its axis it is where the ray passes nearest.
  const piece =
    part.kind === 'straight'
      ? route.pieces.find(p => p.kind === 'line' && p.straight === part.straight)
      : undefined
  const at = piece ? nearestOnSegment(stage.ray(e.x, e.y), piece.start, piece.end).at : pick.at
  const place = supportPlace(settled, run, route, at, step)
  return 'refused' in place ? { refused: `No support here: ${place.refused}.` } : { run, route, place }
}

/** What the document asks of the stretches beside the place, or null when it keeps to that. */
function brokenBy({ before, after }: SupportPlace): string | null {
  const limit = documentStore.getState().settled.supportSpan
  if (limit === null) return null
  const wide = [before, after].find(n => n.away > limit + LENGTH_SLACK_MM)
  return wide ? `${long(wide.away)} to ${wide.name}, maximum ${long(limit)}` : null
}

function ghost({ run, route, place }: Found): Guide[] {
  const support = { id: '', name: '', type: '', run: run.id, at: place.at }
  const { od } = run.tube
  return saddleLines(supportStand(support, od, route), od).map(([from, to]) => ({ from, to, kind: 'next' }))
}

function readout(e: Move, found: Found | Refused): Readout {
  const base = { x: e.x, y: e.y, fields: [], snaps: [] }
  if ('refused' in found) return { ...base, title: found.refused, rows: [], broken: null, hint: 'Esc stops' }
  const { straight, on, from, before, after } = found.place
  return {
    ...base,
    title: `Click: support on straight ${straight + 1}`,
    rows: [
      { name: `from ${from}`, value: long(on) },
      // On the first straight the end is what it is measured from.
      ...(before.name === from ? [] : [{ name: `to ${before.name}`, value: long(before.away) }]),
      { name: `to ${after.name}`, value: long(after.away) },
    ],
    broken: brokenBy(found.place),
    hint: 'Alt no rounding · Esc stops',
  }
}

/** Makes clicks in the picture put supports on the tube, until what it gives is called or Escape is pressed. */
export function supportTool(stage: Stage): () => void {
  const clear = () => sceneStore.setState({ readout: null, guides: [] })
  const show = (e: Move) => {
    const found = under(stage, e)
    sceneStore.setState({ readout: readout(e, found), guides: 'refused' in found ? [] : ghost(found) })
  }
  stage.pointerTool = {
    cursor: 'crosshair',
    hover: show,
    click(e) {
      const found = under(stage, e)
      const { say, select } = sessionStore.getState()
      if ('refused' in found) return say(found.refused)
      const { run, place } = found
      let name = ''
      documentStore.getState().apply('Add a support', document => {
        const made = addSupport(document, run.id, place.at)
        name = made.document.supports.at(-1)!.name
        return made.document
      })
      // The straight stays in hand, so that the next one can be put on it.
      select({ kind: 'straight', run: run.id, straight: place.straight })
      say(`${name} is on straight ${place.straight + 1} of ${run.tag}, ${long(place.on)} from ${place.from}.`)
      show(e)
    },
    leave: clear,
  }
  const key = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || event.defaultPrevented || document.querySelector('dialog:modal')) return
    event.preventDefault()
    event.stopImmediatePropagation()
    sessionStore.getState().set({ tool: 'pick' })
  }
  window.addEventListener('keydown', key, { capture: true })
  return () => {
    window.removeEventListener('keydown', key, { capture: true })
    stage.pointerTool = null
    clear()
  }
}
