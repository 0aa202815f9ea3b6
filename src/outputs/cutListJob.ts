import type { SkidDocument } from '../document/types.ts'
import type { SolvedRun } from '../solve/types.ts'
import { billOfMaterial, type MaterialLine } from './billOfMaterial.ts'
import { type CutList, type CutOptions, cutList } from './cutList.ts'
import { OutputError } from './outputError.ts'

/** `serial` numbers the request: every answer carries it. Plain data only. */
export interface CutListRequest {
  readonly serial: number
  readonly document: SkidDocument
  readonly solved: readonly SolvedRun[]
  readonly options: Omit<CutOptions, 'progress'>
}

export type CutListAnswer =
  | { readonly serial: number; readonly kind: 'progress'; readonly done: number; readonly of: number }
  | {
      readonly serial: number
      readonly kind: 'done'
      readonly list: CutList
      readonly material: readonly MaterialLine[]
    }
  /** The options or the runs make no cut list; `reason` names the place, what was found and what was wanted. */
  | { readonly serial: number; readonly kind: 'refused'; readonly reason: string }

/** Nests the runs and lists their material. Stopping it is ending the worker: a job never waits for messages. */
export function doCutListJob(request: CutListRequest, answer: (answer: CutListAnswer) => void): void {
  const { serial, document, solved, options } = request
  try {
    const list = cutList(document, solved, {
      ...options,
      progress: (done, of) => answer({ serial, kind: 'progress', done, of }),
    })
    answer({ serial, kind: 'done', list, material: billOfMaterial(document, solved, list) })
  } catch (error) {
    if (!(error instanceof OutputError)) throw error
    answer({ serial, kind: 'refused', reason: error.message })
  }
}
