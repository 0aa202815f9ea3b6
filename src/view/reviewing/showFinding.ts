import type { Finding } from '../../checks/finding.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type Part, sessionStore } from '../../store/sessionStore.ts'

/** The part of the document a finding is about, for the shared selection; null when it is about the document. */
export function partOf(finding: Finding): Part | null {
  const { run, kind, index } = finding.where
  if (run === null) return null
  if (kind === 'straight' && index !== null) return { kind: 'straight', run, straight: index }
  if (kind === 'endA' || kind === 'endB') return { kind: 'point', run, point: kind === 'endA' ? 'A' : 'B' }
  const vertices = documentStore.getState().document.runs.find(r => r.id === run)?.vertices ?? []
  if (kind === 'vertex' && index !== null) {
    const point = index === 0 ? 'A' : index > vertices.length ? 'B' : vertices[index - 1]?.id
    return point ? { kind: 'point', run, point } : { kind: 'run', run }
  }
  return { kind: 'run', run }
}

/** Selects what the finding is about and takes the camera there. */
export function showFinding(finding: Finding): void {
  const { select, look } = sessionStore.getState()
  select(partOf(finding))
  look({ kind: 'fitSelection' })
}
