import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { billOfMaterial, type MaterialLine } from './billOfMaterial.ts'
import { type CutList, type CutOptions, cutList } from './cutList.ts'
import { OutputError } from './outputError.ts'

/** Plain data only. */
export interface CutListRequest {
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  readonly options: Omit<CutOptions, 'progress'>
}

export interface CutProgress {
  readonly done: number
  readonly of: number
}

export type CutListAnswer =
  | { readonly kind: 'done'; readonly list: CutList; readonly material: readonly MaterialLine[] }
  /** The options or the runs make no cut list; `reason` names the place, what was found and what was wanted. */
  | { readonly kind: 'refused'; readonly reason: string }

/** Nests the runs and lists their material. Stopping it is ending the worker: a job never waits for messages. */
export function doCutListJob(
  { document, solved, options }: CutListRequest,
  tell: (progress: CutProgress) => void,
): CutListAnswer {
  try {
    const list = cutList(document, solved, { ...options, progress: (done, of) => tell({ done, of }) })
    return { kind: 'done', list, material: billOfMaterial(document, solved, list) }
  } catch (error) {
    if (!(error instanceof OutputError)) throw error
    return { kind: 'refused', reason: error.message }
  }
}
