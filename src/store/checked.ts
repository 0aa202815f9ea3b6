import { checksOfDocument, checksOfRun, mergeWorstFirst, worstFirst } from '../checks/runChecks.ts'
import type { Run, SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { SolvedRun } from '../solve/types.ts'
import { solvedRuns } from './derived.ts'

interface Known {
  readonly run: Run
  readonly solved: SolvedRun
  readonly findings: readonly Finding[]
}
/** The document last checked, what was found of each run, and all of it in order. */
let last: {
  readonly document: SkidDocument
  readonly ofRun: ReadonlyMap<string, Known>
  readonly ofDocument: readonly Finding[]
  readonly all: readonly Finding[]
} | null = null

/** Of runs that were checked before their document was shown, and in which document. */
const ahead = new WeakMap<Run, Known & { readonly document: SkidDocument }>()

/** Checks a run of a document that is about to be shown: `fastFindings` of that document will know of it. */
export function checkAhead(document: SkidDocument, run: Run, solved: SolvedRun): void {
  ahead.set(run, { document, run, solved, findings: checksOfRun(document, run, solved) })
}

/**
 * All fast findings of a document, worst first: those of `runChecks`, but only runs that are other objects than last
 * time are checked, and findings of the others stay the same objects.
 */
export function fastFindings(document: SkidDocument): readonly Finding[] {
  if (last?.document === document) return last.all
  const before = last && sameAround(last.document, document) ? last : null
  const solved = solvedRuns(document)
  const ofRun = new Map<string, Known>()
  const fresh: Finding[] = []
  let kept = 0
  document.runs.forEach((run, i) => {
    const known = before?.ofRun.get(run.id)
    if (known && known.run === run && known.solved === solved[i]) {
      ofRun.set(run.id, known)
      kept++
      return
    }
    const early = ahead.get(run)
    const isKnown = early?.document === document && early.solved === solved[i]
    const findings = isKnown ? early.findings : checksOfRun(document, run, solved[i]!)
    ofRun.set(run.id, { run, solved: solved[i]!, findings })
    fresh.push(...findings)
  })
  const ofDocument = before?.ofDocument ?? checksOfDocument(document)
  const stays = ({ where: { run } }: Finding) => run === null || ofRun.get(run) === before?.ofRun.get(run)
  const all =
    before && kept > 0
      ? mergeWorstFirst(before.all.filter(stays), worstFirst(fresh))
      : worstFirst([...fresh, ...ofDocument])
  last = { document, ofRun, ofDocument, all }
  return all
}

/** Whether all that a run's check may look at besides the run is the same. */
const sameAround = (a: SkidDocument, b: SkidDocument): boolean =>
  a.fittings === b.fittings &&
  a.benders === b.benders &&
  a.solids === b.solids &&
  a.models === b.models &&
  a.supports === b.supports &&
  a.supportSpan === b.supportSpan &&
  a.clearances === b.clearances
