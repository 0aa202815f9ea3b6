import { type DocumentChange, withChange } from '../document/documentChange.ts'
import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import { keptSolver } from '../solve/keptSolver.ts'
import { type ClearancePair, clearancePairs } from './clearance.ts'
import { findingsOfIndex, reachOfFindings } from './clearanceFindings.ts'
import { type ClearanceIndex, createClearanceIndex, type Progress } from './clearanceIndex.ts'
import type { Thing } from './measurable.ts'
import type { measureBetween } from './measureBetween.ts'
import { modelBodies } from './models/modelBodies.ts'
import { modelFindings } from './models/modelFindings.ts'
import type { ModelPartTree } from './models/modelTypes.ts'

/**
 * What is asked of the worker: the clearance of a document, or two of its things measured against each other. A document
 * comes as its change from that of the request before, the first one whole.
 */
export type ClearanceRequest =
  | { readonly kind: 'check'; readonly change: DocumentChange }
  /** With the models that are there. Between turns of a check. */
  | {
      readonly kind: 'measure'
      readonly change: DocumentChange
      readonly first: Thing
      readonly second: Thing
    }

/** What the worker is told. Trees handed over stay until they are dropped; a check uses those that are there then. */
export type ClearanceMessage =
  /** The trees of one file, by `treesKey`. Post their buffers as transfers. */
  | { readonly kind: 'models'; readonly key: string; readonly trees: readonly ModelPartTree[] }
  /** Why a file's trees are not there, to go behind its name: "cannot be read"; '' that it is not at hand. */
  | { readonly kind: 'drop'; readonly key: string; readonly why: string }

export type ClearanceAnswer =
  | {
      readonly kind: 'checked'
      readonly findings: readonly Finding[]
      readonly pairs: readonly ClearancePair[]
    }
  | { readonly kind: 'measured'; readonly measurement: ReturnType<typeof measureBetween> }

interface Asking {
  progress(progress: Progress): void
  isLeft(): boolean
}

/** How long the check works before it looks for messages, ms: they are seen well within a second. */
const TURN_MS = 80

export interface ClearanceJob {
  /** Undefined when the check was left before it was done; what is measured by then is kept for the next. */
  readonly answer: (request: ClearanceRequest, asking: Asking) => Promise<ClearanceAnswer | undefined>
  readonly take: (message: ClearanceMessage) => void
}

/**
 * Answers clearance requests one after another; an edit measures only the pairs that it touches. It throws what the
 * checks throw.
 *
 * @param pause lets waiting messages in before it comes back: a turn of the event loop, not of promises.
 */
export function createClearanceJob(
  pause: () => Promise<void> = () => new Promise(done => setTimeout(done)),
): ClearanceJob {
  const trees = new Map<string, readonly ModelPartTree[]>()
  const why = new Map<string, string>()
  /** Kept between requests. */
  let index: ClearanceIndex | null = null
  let running: Promise<unknown> = Promise.resolve()
  /** Of the last request. */
  let known: SkidDocument | null = null

  const check = async (document: SkidDocument, asking: Asking): Promise<ClearanceAnswer | undefined> => {
    if (asking.isLeft()) return undefined
    try {
      const models = modelBodies(document, trees)
      const { bodies } = models
      const reach = reachOfFindings(document, bodies)
      if (!index || index.within < reach) index = createClearanceIndex(reach)
      const steps = index.updating(document, document.runs.map(keptSolver(document)), bodies)
      let since = performance.now()
      for (let step = steps.next(); !step.done; step = steps.next()) {
        if (performance.now() - since < TURN_MS) continue
        asking.progress(step.value)
        await pause()
        if (asking.isLeft()) return undefined
        since = performance.now()
      }
      const findings = [...findingsOfIndex(index, document, bodies), ...modelFindings(models, why)]
      return { kind: 'checked', findings, pairs: clearancePairs(index, document, bodies) }
    } catch (error) {
      // Whatever went wrong, the next document starts from a clean index.
      index = null
      throw error
    }
  }

  return {
    answer: async (request, asking) => {
      // At once: the next request's change is one of this document.
      const document = withChange(known, request.change)
      known = document
      if (request.kind === 'check') {
        const answer = running.then(() => check(document, asking))
        running = answer.catch(() => {})
        return answer
      }
      const { first, second } = request
      const runs = new Set([first, second].flatMap(thing => ('run' in thing ? [thing.run] : [])))
      const solved = document.runs.filter(r => runs.has(r.id)).map(keptSolver(document))
      const { bodies } = modelBodies(document, trees)
      // Loaded with the first question: most skids are checked and never measured.
      const { measureBetween } = await import('./measureBetween.ts')
      return { kind: 'measured', measurement: measureBetween(document, solved, first, second, bodies) }
    },
    take: message => {
      if (message.kind === 'models') {
        trees.set(message.key, message.trees)
        why.delete(message.key)
        return
      }
      trees.delete(message.key)
      if (message.why) why.set(message.key, message.why)
      else why.delete(message.key)
    },
  }
}
