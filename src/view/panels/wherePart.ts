import { placeWord } from '../../checks/placeWord.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding, Where } from '../../findings/finding.ts'
import type { Vec3 } from '../../geometry/vec3.ts'
import { lerp } from '../../geometry/vec3.ts'
import { modelPartOf } from '../../skid/models/nameOfBody.ts'
import { partName } from '../../skid/partName.ts'
import type { SolvedRun } from '../../solve/types.ts'
import type { Part } from '../../store/sessionStore.ts'

/** The part of the document a finding is about, or null when it is the document itself. */
export function partOf({ where }: Finding, solved: SolvedRun | null): Part | null {
  if (where.run === null) return null
  const run = where.run
  if (where.kind === 'support' && where.other !== undefined) return { kind: 'support', support: where.other }
  const route = solved?.route
  const index = where.index ?? 0
  if (where.kind === 'endA') return { kind: 'point', run, point: 'A' }
  if (where.kind === 'endB') return { kind: 'point', run, point: 'B' }
  if (where.kind === 'straight') return { kind: 'straight', run, straight: index }
  if (where.kind === 'leg' && route)
    return { kind: 'straight', run, straight: index - route.passedThrough.filter(p => p <= index).length }
  const bend = where.kind === 'bend' || where.kind === 'motion' ? route?.bends[index]?.vertexId : undefined
  const point = bend ?? (where.kind === 'vertex' ? route?.pointIds[index] : undefined)
  return point !== undefined && where.index !== null ? { kind: 'point', run, point } : { kind: 'run', run }
}

/** The solid, model or part of a model that a finding of no run is about; null when it is the document itself. */
export function bodyPartOf({ run, other }: Where, document: SkidDocument): Part | null {
  return run !== null || other === undefined ? null : bodyById(other, document)
}

function bodyById(other: string, document: SkidDocument): Part | null {
  if (document.solids.some(s => s.id === other)) return { kind: 'solid', solid: other }
  const found = modelPartOf(document, other)
  return found && { kind: 'model', model: found.model.id, key: found.key }
}

/** The other party of a finding about two: a run, or a body of the skid; null when it is about one. */
export function otherPartOf({ run, other, kind }: Where, document: SkidDocument): Part | null {
  if (kind !== 'pair' || run === null || other === undefined || other === run) return null
  if (document.runs.some(r => r.id === other)) return { kind: 'run', run: other }
  if (document.fittings.some(f => f.id === other)) return { kind: 'fitting', fitting: other }
  return bodyById(other, document)
}

/** Where it is, in words: "P-101, bend 2". */
export function whereInWords(where: Where, document: SkidDocument): string {
  if (where.run === null && where.kind === 'pair') return otherName(where.other, document)
  const run = document.runs.find(r => r.id === where.run)
  const tag = run?.tag ?? (where.run === null ? 'Skid' : where.run)
  const word =
    where.kind === 'pair'
      ? `and ${otherName(where.other, document)}`
      : where.kind === 'support'
        ? (document.supports.find(s => s.id === where.other)?.name ?? 'a support')
        : placeWord(where)
  return [tag, word].filter(Boolean).join(where.kind === 'pair' ? ' ' : ', ')
}

const otherName = (id: string | undefined, document: SkidDocument): string =>
  id === undefined ? 'another part' : partName(document, id)

/** Where to fly to for a part of a run, mm, and how wide to look; null when the whole run is meant. */
export function placeOfPart(part: Part, solved: SolvedRun | null): { at: Vec3; span: number } | null {
  const route = solved?.route
  if (!route) return null
  if (part.kind === 'point') {
    const k = route.pointIds.indexOf(part.point)
    const at = route.points[k]
    return at ? { at, span: 6 * (route.bends[0]?.clr ?? 50) } : null
  }
  if (part.kind === 'straight') {
    const piece = route.pieces.find(p => p.kind === 'line' && p.straight === part.straight)
    return piece
      ? { at: lerp(piece.start, piece.end, 0.5), span: Math.max(150, 2 * Math.abs(piece.to - piece.from)) }
      : null
  }
  return null
}
