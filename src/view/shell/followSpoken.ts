import { clearanceStore } from '../../store/clearance.ts'
import { documentStore } from '../../store/documentStore.ts'
import { findingsOf } from '../../store/findings.ts'
import { housingStore } from '../../store/housing.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { describePart } from '../panels/describePart.ts'
import { countsInWords } from '../panels/severity.ts'
import { asSentences, spokenStore } from './spokenStore.ts'

/** What follows one key or click within this is told together, ms. */
const TOGETHER_MS = 120
/** So long a change waits for its checks before it is told without them, ms. */
const CHECKED_WITHIN_MS = 2500

/**
 * Tells a screen reader what happened, once: what was said, or what was selected, and after a change what the checks make
 * of it. Nothing while a gesture lasts: its end is told, with its result. Gives what stops it.
 */
export function followSpoken(): () => void {
  let said = sessionStore.getState().said
  let selection = sessionStore.getState().selection
  let settled = documentStore.getState().settled
  let counts = countsNow()
  let words = ''
  let changed = false
  let since = 0
  let due = 0

  const later = () => {
    window.clearTimeout(due)
    due = window.setTimeout(tell, TOGETHER_MS)
  }
  const onSession = () => {
    const now = sessionStore.getState()
    if (now.said !== said) {
      said = now.said
      words = said
      later()
    }
    if (now.selection !== selection) {
      selection = now.selection
      later()
      pointed = selection !== null
    }
  }
  let pointed = false
  const onDocument = () => {
    const now = documentStore.getState()
    if (now.settled !== settled) {
      settled = now.settled
      if (!changed) since = performance.now()
      changed = true
    }
    if (changed || words || pointed) later()
  }
  const onAnswer = () => {
    if (changed) later()
  }
  const tell = () => {
    const { document, settled: now } = documentStore.getState()
    if (document !== now) return
    const { findings, complete } = state()
    if (changed && !complete && performance.now() - since < CHECKED_WITHIN_MS) return later()
    const parts = [words]
    if (pointed && selection && !words) {
      const { unit } = sessionStore.getState()
      parts.push(describePart(selection, now, findings, unit) ?? '')
    }
    if (changed) {
      const next = countsNow()
      if (next !== counts) parts.push(next)
      counts = next
    }
    words = ''
    changed = false
    pointed = false
    const text = asSentences(parts)
    if (text) spokenStore.setState({ text, serial: spokenStore.getState().serial + 1 })
  }
  const stops = [
    sessionStore.subscribe(onSession),
    documentStore.subscribe(onDocument),
    clearanceStore.subscribe(onAnswer),
    housingStore.subscribe(onAnswer),
  ]
  return () => {
    window.clearTimeout(due)
    for (const stop of stops) stop()
  }
}

function state() {
  const { decisions, complete } = findingsOf(documentStore.getState().settled, clearanceStore.getState())
  return { findings: decisions.decided.filter(d => d.state !== 'accepted').map(d => d.finding), complete }
}

function countsNow(): string {
  if (documentStore.getState().settled.runs.length === 0) return 'Nothing to check'
  const { findings, complete } = state()
  const found = countsInWords(findings) || 'No open findings'
  return complete ? found : `${found} so far`
}
