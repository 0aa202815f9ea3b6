import type { SkidDocument } from '../document/types.ts'
import type { ModelPartTree } from '../skid/models/modelTypes.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { allFindings } from './allFindings.ts'
import type { Finding } from './finding.ts'

export interface VersionRequest {
  readonly serial: number
  readonly document: SkidDocument
  /** By `treesKey`: why the parts of a model's file are not there, where it is another reason than that it is missing. */
  readonly why?: ReadonlyMap<string, string>
}
export type VersionMessage =
  /** More parts of one file, by `treesKey`: one after the other, because copying all at once would stop the page. */
  | { readonly kind: 'parts'; readonly key: string; readonly parts: readonly ModelPartTree[] }
  /** After all parts. */
  | ({ readonly kind: 'check' } & VersionRequest)

export type VersionAnswer = { readonly serial: number } & (
  | { readonly ok: true; readonly findings: readonly Finding[] }
  | { readonly ok: false; readonly reason: string }
)

/**
 * Takes the parts of model files and then, once, the version that they are of: gives the findings of all checks of it,
 * or why there are none; null while parts come in. A model of which no part came is not checked, and a finding says so.
 */
export function createVersionJob(): (message: VersionMessage) => VersionAnswer | null {
  const trees = new Map<string, readonly ModelPartTree[]>()
  return message => {
    if (message.kind === 'parts') {
      trees.set(message.key, [...(trees.get(message.key) ?? []), ...message.parts])
      return null
    }
    const { serial, document, why } = message
    try {
      const models = { trees, ...(why ? { why } : {}) }
      return { serial, ok: true, findings: allFindings(document, solveDocument(document), models) }
    } catch (error) {
      return { serial, ok: false, reason: error instanceof Error ? error.message : String(error) }
    }
  }
}
