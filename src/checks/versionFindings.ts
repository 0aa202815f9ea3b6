import type { SkidDocument } from '../document/types.ts'
import type { Finding } from '../findings/finding.ts'
import type { ModelPartTree } from '../skid/models/modelTypes.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { allFindings } from './allFindings.ts'

export interface VersionRequest {
  readonly document: SkidDocument
  /** By `treesKey`: why the parts of a model's file are not there, where it is another reason than that it is missing. */
  readonly why?: ReadonlyMap<string, string>
}
/** More parts of one file, by `treesKey`: one after the other, because copying all at once would stop the page. */
export interface VersionParts {
  readonly key: string
  readonly parts: readonly ModelPartTree[]
}

export interface VersionJob {
  readonly take: (message: VersionParts) => void
  /** The findings of all checks of a version. A model of which no part came is not checked, and a finding says so. */
  readonly answer: (request: VersionRequest) => readonly Finding[]
}

/** Takes the parts of model files and then, once, the version that they are of. */
export function createVersionJob(): VersionJob {
  const trees = new Map<string, readonly ModelPartTree[]>()
  return {
    take: ({ key, parts }) => void trees.set(key, [...(trees.get(key) ?? []), ...parts]),
    answer: ({ document, why }) =>
      allFindings(document, solveDocument(document), { trees, ...(why ? { why } : {}) }),
  }
}
