import { runOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import type { SolvedRun } from '../../solve/types.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { useShownCalmly } from '../useCalmly.ts'
import { useSession, useShown } from '../useStore.ts'

export interface RunInHand {
  readonly document: SkidDocument
  readonly run: Run
  readonly solved: SolvedRun
}

/** The run whose tables are shown: the one in hand, else the document's first; null when there is none. */
export const useRunInHand = (): RunInHand | null => useRunInHandOf(useShownCalmly())

/** The same at every move of a gesture. */
export const useRunInHandLive = (): RunInHand | null => useRunInHandOf(useShown())

function useRunInHandOf(document: SkidDocument): RunInHand | null {
  const id = useSession(state => state.runInHand)
  const run = (id !== null && runOf(document, id)) || document.runs[0]
  if (!run) return null
  const solved = solvedRunOf(document, run.id)
  return solved ? { document, run, solved } : null
}
