import { endPoint, fittingOf, runOf } from '../../document/lookUp.ts'
import { formatAngle, formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { ruleWords } from '../../findings/rules.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { type Part, samePart } from '../../store/sessionStore.ts'
import { KIND_NAMES } from './solidKinds.ts'
import { partOf } from './wherePart.ts'

/**
 * What is selected, in a few words, the way its row or shape would say it: "Bend 2 of 4, 45°", "Straight 3 of 5, 134 mm,
 * 1 issue". Null when it is not there any more.
 *
 * @param open findings that want something done, of the whole document.
 */
export function describePart(
  part: Part,
  document: SkidDocument,
  open: readonly Finding[],
  unit: LengthUnit,
): string | null {
  const length = (mm: number) => formatLength(mm, unit, { withUnit: true })
  if (part.kind === 'fitting') {
    const fitting = document.fittings.find(f => f.id === part.fitting)
    return fitting ? `${fitting.name}, port` : null
  }
  if (part.kind === 'solid') {
    const solid = document.solids.find(s => s.id === part.solid)
    return solid ? `${solid.name}, ${KIND_NAMES[solid.kind].toLowerCase()}` : null
  }
  if (part.kind === 'model') return document.models.find(m => m.id === part.model)?.name ?? null
  if (part.kind === 'support') return document.supports.find(s => s.id === part.support)?.name ?? null
  const run = runOf(document, part.run)
  if (!run) return null
  const solved = solvedRunOf(document, run.id)
  const route = solved?.route ?? null
  const issues = issuesInWords(open.filter(f => isAbout(f, part, document)))
  if (part.kind === 'run') {
    const bends = route ? `, ${counted(route.bends.length, 'bend')}` : ', cannot be solved'
    const cut = solved?.cutLength == null ? '' : `, cut ${length(solved.cutLength)}`
    return `${run.tag}${bends}${cut}${issues}`
  }
  if (part.kind === 'straight') {
    const long = route?.straights[part.straight]
    return long === undefined
      ? null
      : `Straight ${part.straight + 1} of ${route!.straights.length}, ${length(long)}${issues}`
  }
  if (part.point === 'A' || part.point === 'B') {
    const end = part.point === 'A' ? run.endA : run.endB
    const fitting = fittingOf(document, end)
    const at = endPoint(document, end)
    const where = fitting ? `in ${fitting.name}` : at ? 'free' : 'its port is missing'
    return `End ${part.point} of ${run.tag}, ${where}${issues}`
  }
  const bend = route?.bends.findIndex(b => b.vertexId === part.point) ?? -1
  if (route && bend >= 0)
    return `Bend ${bend + 1} of ${route.bends.length}, ${formatAngle(route.bends[bend]!.angle)}°${issues}`
  const place = run.vertices.findIndex(v => v.id === part.point)
  return place < 0 ? null : `Point ${place + 2} of ${run.vertices.length + 2}, no bend${issues}`
}

/** Whether it is about this very part, or for a run, about any of it. */
function isAbout(finding: Finding, part: Part & { run: string }, document: SkidDocument): boolean {
  const { run, other } = finding.where
  if (part.kind === 'run') return run === part.run || other === part.run
  return run === part.run && samePart(partOf(finding, solvedRunOf(document, run)), part)
}

/** ", 1 issue: straight too short", ", 3 issues", or nothing. */
export function issuesInWords(findings: readonly Finding[]): string {
  const [only] = findings
  if (!only) return ''
  return findings.length === 1 ? `, 1 issue: ${ruleWords(only.rule)}` : `, ${findings.length} issues`
}

const counted = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`
