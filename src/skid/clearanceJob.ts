import type { Finding } from '../checks/finding.ts'
import type { SkidDocument } from '../document/types.ts'
import { solveDocument, solveRun } from '../solve/solveRun.ts'
import { type ClearancePair, clearancePairs } from './clearance.ts'
import { findingsOfIndex, reachOfFindings } from './clearanceFindings.ts'
import { type ClearanceIndex, createClearanceIndex, type Progress } from './clearanceIndex.ts'
import type { Thing } from './measurable.ts'
import type { measureBetween } from './measureBetween.ts'
import { modelBodies } from './models/modelBodies.ts'
import { modelFindings } from './models/modelFindings.ts'
import type { ModelPartTree } from './models/modelTypes.ts'

export interface ClearanceRequest {
  readonly kind: 'check'
  /** Answers carry it back: one to an older document is never taken for the newest. */
  readonly serial: number
  readonly document: SkidDocument
}

/** What the worker is told. Trees handed over stay until they are dropped; a check uses those that are there then. */
export type ClearanceMessage =
  | ClearanceRequest
  /** The trees of one file, by `treesKey`. Post their buffers as transfers. */
  | { readonly kind: 'models'; readonly key: string; readonly trees: readonly ModelPartTree[] }
  /** Why a file's trees are not there, to go behind its name: "cannot be read"; '' that it is not at hand. */
  | { readonly kind: 'drop'; readonly key: string; readonly why: string }
  /** Leaves the check that runs; what is measured is kept for the next. */
  | { readonly kind: 'abort' }
  | MeasureRequest

/** Two things to be measured against each other, with the models that are there. Between turns of a check. */
export interface MeasureRequest {
  readonly kind: 'measure'
  readonly serial: number
  readonly document: SkidDocument
  readonly first: Thing
  readonly second: Thing
}

export type ClearanceAnswer = { readonly serial: number } & (
  | { readonly ok: true; readonly findings: readonly Finding[]; readonly pairs: readonly ClearancePair[] }
  | { readonly ok: false; readonly reason: string }
)
export type ClearanceReply =
  | ({ readonly kind: 'answer' } & ClearanceAnswer)
  | { readonly kind: 'measured'; readonly serial: number; readonly answer: ReturnType<typeof measureBetween> }
  | ({ readonly kind: 'progress'; readonly serial: number } & Progress)
  /** The check was left before it was done: for a newer request, or because it was told to. */
  | { readonly kind: 'left'; readonly serial: number }

/** How long the check works before it looks for messages, ms: they are seen well within a second. */
const TURN_MS = 80

export interface ClearanceJob {
  /** Takes a message; comes back when a check that it asked for is answered or left. Never throws. */
  readonly take: (message: ClearanceMessage) => Promise<void>
}

/**
 * Answers clearance requests one after another, the newest only; an edit measures only the pairs that it touches.
 *
 * @param post gets every reply.
 * @param pause lets waiting messages in before it comes back: a turn of the event loop, not of promises.
 */
export function createClearanceJob(
  post: (reply: ClearanceReply) => void,
  pause: () => Promise<void> = () => new Promise(done => setTimeout(done)),
): ClearanceJob {
  const trees = new Map<string, readonly ModelPartTree[]>()
  const why = new Map<string, string>()
  /** Kept between requests. */
  let index: ClearanceIndex | null = null
  /** Counts requests and aborts: a check whose number is not the last one leaves off. */
  let newest = 0
  let running: Promise<void> = Promise.resolve()

  const check = async ({ serial, document }: ClearanceRequest, number: number): Promise<void> => {
    if (number !== newest) return post({ kind: 'left', serial })
    try {
      const models = modelBodies(document, trees)
      const { bodies } = models
      const reach = reachOfFindings(document, bodies)
      if (!index || index.within < reach) index = createClearanceIndex(reach)
      const steps = index.updating(document, solveDocument(document), bodies)
      let since = performance.now()
      for (let step = steps.next(); !step.done; step = steps.next()) {
        if (performance.now() - since < TURN_MS) continue
        post({ kind: 'progress', serial, ...step.value })
        await pause()
        if (number !== newest) return post({ kind: 'left', serial })
        since = performance.now()
      }
      const findings = [...findingsOfIndex(index, document, bodies), ...modelFindings(models, why)]
      post({ kind: 'answer', serial, ok: true, findings, pairs: clearancePairs(index, document, bodies) })
    } catch (error) {
      // Whatever went wrong, the next document starts from a clean index.
      index = null
      const reason = error instanceof Error ? error.message : String(error)
      post({ kind: 'answer', serial, ok: false, reason })
    }
  }

  const measure = async ({ serial, document, first, second }: MeasureRequest): Promise<void> => {
    const runs = new Set([first, second].flatMap(thing => ('run' in thing ? [thing.run] : [])))
    const solved = document.runs.filter(r => runs.has(r.id)).map(r => solveRun(document, r))
    const { bodies } = modelBodies(document, trees)
    // Loaded with the first question: most skids are checked and never measured.
    const { measureBetween } = await import('./measureBetween.ts')
    post({ kind: 'measured', serial, answer: measureBetween(document, solved, first, second, bodies) })
  }

  return {
    take: async message => {
      switch (message.kind) {
        case 'models':
          trees.set(message.key, message.trees)
          why.delete(message.key)
          return
        case 'drop':
          trees.delete(message.key)
          if (message.why) why.set(message.key, message.why)
          else why.delete(message.key)
          return
        case 'abort':
          newest++
          return
        case 'measure':
          await measure(message)
          return
        case 'check': {
          const number = ++newest
          running = running.then(() => check(message, number))
          await running
        }
      }
    },
  }
}
