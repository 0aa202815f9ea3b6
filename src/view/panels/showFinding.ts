import type { LengthUnit } from '../../document/quantity.ts'
import { formatLength } from '../../document/quantity.ts'
import type { Finding } from '../../findings/finding.ts'
import { distance, lerp, sub } from '../../geometry/vec3.ts'
import type { ClearancePair } from '../../skid/clearance.ts'
import { clearanceStore, stillHolds } from '../../store/clearance.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { documentStore } from '../../store/documentStore.ts'
import { type ShownGap, sessionStore } from '../../store/sessionStore.ts'
import { bodyPartOf, partOf } from './wherePart.ts'

/** The measured pair a clearance finding is about; null for any other finding. */
export function pairOf(finding: Finding, pairs: readonly ClearancePair[]): ClearancePair | null {
  const { kind, run, other } = finding.where
  if (kind !== 'pair') return null
  return pairs.find(p => (p.aId === run && p.bId === other) || (p.aId === other && p.bId === run)) ?? null
}

/** Selects what the finding is about and takes the camera there: square to the gap when it is one. */
export function showFinding(finding: Finding, unit: LengthUnit): void {
  const { select, look, set } = sessionStore.getState()
  const { document } = documentStore.getState()
  select(partOf(finding, solvedRunOf(document, finding.where.run)) ?? bodyPartOf(finding.where, document))
  const pair = pairOf(finding, clearanceStore.getState().pairs)
  if (!pair) {
    set({ gap: null })
    look({ kind: 'fitSelection' })
    return
  }
  const gap = gapOfPair(pair, unit)
  const { from, to } = gap
  set({ gap })
  const apart = distance(from, to)
  look({
    kind: 'flyTo',
    at: lerp(from, to, 0.5),
    span: Math.max(180, apart * 6),
    ...(apart > 1e-6 ? { square: sub(to, from) } : {}),
  })
}

function gapOfPair(
  { pointA: from, pointB: to, clearance, required, a, b, aId, bId }: ClearancePair,
  unit: LengthUnit,
): ShownGap {
  const written = formatLength(Math.abs(clearance), unit, { withUnit: true })
  return {
    from,
    to,
    text: clearance < 0 ? `overlap ${written}` : `gap ${written}`,
    between: [aId, bId],
    names: [a, b],
    state: clearance < 0 ? 'error' : clearance < required ? 'warning' : 'ok',
  }
}

/** Keeps the gap that is shown true through edits: "gap …" until it is measured anew, none when it is wide. */
export function followGap(unit: LengthUnit): () => void {
  const follow = () => {
    const { gap, set } = sessionStore.getState()
    if (!gap) return
    const state = clearanceStore.getState()
    const { document } = documentStore.getState()
    const { answered } = state
    const [a, b] = gap.between
    if (!answered || !stillHolds(answered, document)(a, b)) {
      if (gap.text !== 'gap …') set({ gap: { ...gap, text: 'gap …' } })
      return
    }
    const pair = state.pairs.find(p => p.aId === a && p.bId === b)
    const now = pair ? gapOfPair(pair, unit) : null
    if (JSON.stringify(now) !== JSON.stringify(gap)) set({ gap: now })
  }
  const stops = [documentStore.subscribe(follow), clearanceStore.subscribe(follow)]
  follow()
  return () => {
    for (const stop of stops) stop()
  }
}

/** Takes the gap off the picture when something else is selected, and at the end. Gives what ends it. */
export function leaveGap(): () => void {
  const stop = sessionStore.subscribe((now, before) => {
    if (now.gap && now.gap === before.gap && now.selection !== before.selection) now.set({ gap: null })
  })
  return () => {
    stop()
    sessionStore.getState().set({ gap: null })
  }
}
