import { readDocument } from '../document/readDocument.ts'
import { type CodeAnswer, findByCode } from '../outputs/runCode.ts'
import { solveDocument } from '../solve/solveRun.ts'
import { openCopyId } from './autosave.ts'
import { type Copy, listCopies } from './copies.ts'
import { solvedRuns } from './derived.ts'
import { documentStore } from './documentStore.ts'

export type SheetAnswer =
  /** In the open document. `copy`: a kept copy that has the sheet's figures, when the open document does not. */
  | { readonly kind: 'open'; readonly found: CodeAnswer; readonly copy: Copy | null }
  /** Not in the open document, but in this kept copy. */
  | { readonly kind: 'kept'; readonly found: CodeAnswer; readonly copy: Copy }
  | { readonly kind: 'none' }

/**
 * Looks for the run of a sheet's code in the open document, then in the documents that this browser keeps, newest
 * first; there a copy with the very figures goes before one with others. Storage that is refused holds no copies.
 */
export async function findSheet(typed: string): Promise<SheetAnswer> {
  const { settled } = documentStore.getState()
  const here = findByCode(settled, solvedRuns(settled), typed)
  if (here?.same) return { kind: 'open', found: here, copy: null }
  const kept = await inCopies(typed)
  if (here) return { kind: 'open', found: here, copy: kept?.found.same ? kept.copy : null }
  return kept ? { kind: 'kept', ...kept } : { kind: 'none' }
}

async function inCopies(typed: string): Promise<{ found: CodeAnswer; copy: Copy } | null> {
  let changed: { found: CodeAnswer; copy: Copy } | null = null
  for (const copy of await listCopies().catch(() => [])) {
    if (copy.id === openCopyId()) continue
    const read = readDocument(copy.text)
    if (!read.ok) continue
    const found = findByCode(read.document, solveDocument(read.document), typed)
    if (found?.same) return { found, copy }
    if (found) changed ??= { found, copy }
  }
  return changed
}
