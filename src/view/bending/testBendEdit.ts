import { type TestBendResult, toolingAfter } from '../../bender/testBend.ts'
import { dieOf } from '../../document/lookUp.ts'
import type { Sentence } from '../../document/sentence.ts'
import type { SkidDocument, Springback } from '../../document/types.ts'
import { solveRun } from '../../solve/solveRun.ts'
import { programmeOf } from './programme.ts'

/**
 * The document with what a test bend showed: the tooling's CLR and reference offset, the CLR of every run made
 * with that tooling (the tube comes out so, whatever was drawn) and, when given, the springback record.
 */
export function takeOverTestBend(
  document: SkidDocument,
  benderId: string,
  toolingId: string,
  result: TestBendResult,
  springback: Springback | null,
): SkidDocument {
  const bender = document.benders.find(b => b.id === benderId)
  const tooling = bender?.tooling.find(t => t.id === toolingId)
  if (!bender || !tooling)
    throw new RangeError(
      `takeOverTestBend: the document has no tooling "${toolingId}" of bender "${benderId}"`,
    )
  const next = {
    ...bender,
    tooling: bender.tooling.map(t => (t === tooling ? toolingAfter(t, result) : t)),
    springback: springback
      ? [...bender.springback.filter(s => s.material !== springback.material), springback]
      : bender.springback,
  }
  return {
    ...document,
    benders: document.benders.map(b => (b === bender ? next : b)),
    runs: document.runs.map(run =>
      run.bender === benderId && dieOf(bender, run) === tooling ? { ...run, clr: result.clr } : run,
    ),
  }
}

/** How one run's bench figures differ between two documents; lengths mm, A first. */
export interface RunChange {
  readonly runId: string
  readonly tag: string
  readonly cutLength: readonly [number, number]
  /** Mark and dial of every bend, before and after; dial null where it is not known. */
  readonly marks: readonly {
    readonly mark: readonly [number, number]
    readonly dial: readonly [number | null, number | null]
  }[]
  /** Bends (0-based) whose mark would not lie on the stock, though it did before. */
  readonly marksOff: readonly number[]
  /** Why the run can no longer be laid out; then there are no figures. */
  readonly lost: Sentence | null
}

const SAME = 1e-6

/** The runs whose marks, cut length or dial readings differ between two documents. */
export function runChanges(before: SkidDocument, after: SkidDocument): RunChange[] {
  return before.runs.flatMap((run): RunChange[] => {
    const then = after.runs.find(r => r.id === run.id)
    if (!then) return []
    const a = programmeOf(before, run, solveRun(before, run), null)
    const b = programmeOf(after, then, solveRun(after, then), null)
    if (!a.ok) return []
    const base = { runId: run.id, tag: run.tag }
    if (!b.ok)
      return [
        {
          ...base,
          cutLength: [a.programme.layout.cutLength, Number.NaN],
          marks: [],
          marksOff: [],
          lost: b.sentence,
        },
      ]
    const [was, is] = [a.programme.layout, b.programme.layout]
    const marks = was.steps.map((s, i) => ({
      mark: [s.mark, is.steps[i]!.mark] as const,
      dial: [s.dial, is.steps[i]!.dial] as const,
    }))
    const moved =
      Math.abs(was.cutLength - is.cutLength) > SAME ||
      marks.some(
        m => Math.abs(m.mark[0] - m.mark[1]) > SAME || Math.abs((m.dial[0] ?? 0) - (m.dial[1] ?? 0)) > SAME,
      )
    const isOff = (mark: number, stock: number) => mark < 0 || mark > stock
    const marksOff = is.steps.flatMap((s, i) =>
      isOff(s.mark, is.cutLength) && !isOff(was.steps[i]!.mark, was.cutLength) ? [s.bend] : [],
    )
    return moved ? [{ ...base, cutLength: [was.cutLength, is.cutLength], marks, marksOff, lost: null }] : []
  })
}
